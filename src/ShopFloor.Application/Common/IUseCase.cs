namespace ShopFloor.Application.Common;

/// <summary>Marks a class for one thing a user does or asks; such classes are registered by scanning.</summary>
public interface IUseCase;
