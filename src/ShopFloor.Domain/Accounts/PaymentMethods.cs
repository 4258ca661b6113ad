namespace ShopFloor.Domain.Accounts;

/// <summary>How ways to pay are called.</summary>
public static class PaymentMethods
{
    public static string Title(this PaymentMethod method) =>
        method switch
        {
            PaymentMethod.Cash => "Cash",
            PaymentMethod.Card => "Card",
            PaymentMethod.BankTransfer => "Bank transfer",
            PaymentMethod.Cheque => "Cheque",
            _ => throw new ArgumentOutOfRangeException(nameof(method), method, "Unknown method."),
        };
}
