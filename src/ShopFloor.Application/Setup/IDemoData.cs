using ShopFloor.Application.Common;

namespace ShopFloor.Application.Setup;

/// <summary>Fills an empty database with the invented demo shop.</summary>
public interface IDemoData : IHook
{
    /// <summary>Loads it and returns lines to print: the logins. Returns a sentence alone where the database is not empty.</summary>
    Task<IReadOnlyList<string>> LoadAsync(CancellationToken ct);
}
