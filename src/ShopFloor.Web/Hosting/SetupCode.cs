using System.Security.Cryptography;
using System.Text;
using ShopFloor.Application.Setup;

namespace ShopFloor.Web.Hosting;

/// <summary>The one-time code that proves that whoever sets the shop up can read the terminal. Made at start-up when nobody can sign in yet.</summary>
public sealed class SetupGate(IServiceScopeFactory scopes)
{
    private const string Alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";

    /// <summary>So many wrong codes close the set-up until the program is started again, with another code.</summary>
    public const int MostWrong = 50;

    private bool isComplete;
    private int wrong;

    public string Code { get; } =
        string.Concat(RandomNumberGenerator.GetItems<char>(Alphabet, 4))
        + "-"
        + string.Concat(RandomNumberGenerator.GetItems<char>(Alphabet, 4));

    public bool IsClosed => Volatile.Read(ref wrong) >= MostWrong;

    public bool IsRight(string? code)
    {
        var isRight = CryptographicOperations.FixedTimeEquals(
            Encoding.UTF8.GetBytes((code ?? "").Trim().ToUpperInvariant()),
            Encoding.UTF8.GetBytes(Code)
        );
        if (!isRight)
        {
            Interlocked.Increment(ref wrong);
        }

        return isRight && !IsClosed;
    }

    /// <summary>True once somebody can sign in; asked on every request, remembered once true.</summary>
    public async Task<bool> IsCompleteAsync(CancellationToken ct)
    {
        if (!isComplete)
        {
            await using var scope = scopes.CreateAsyncScope();
            isComplete =
                await scope.ServiceProvider.GetRequiredService<SetUpShop>().StageAsync(ct) == SetupStage.Complete;
        }

        return isComplete;
    }
}
