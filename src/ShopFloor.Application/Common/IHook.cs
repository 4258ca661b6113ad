namespace ShopFloor.Application.Common;

/// <summary>Marks an interface by which one area takes part in another's command (set-up, opening a job, verifying). Every class of this assembly that implements such an interface is registered by scanning.</summary>
public interface IHook;
