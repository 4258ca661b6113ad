using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using Xunit;

namespace ShopFloor.Domain.Tests.Intake;

public class CustomerTests
{
    private static readonly DateTimeOffset At = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void All_wrong_fields_are_named_at_once()
    {
        var outcome = Register(
            new CustomerDetails(
                " ",
                Email: "no at sign",
                Phone: "call me",
                Language: "not a tag",
                Payer: new PayerDetails(null, Email: "@")
            )
        );

        var paths = Assert.IsType<Failure.Invalid>(outcome.Failure).Errors.Select(e => e.Path);
        Assert.Equal(
            ["email", "language", "name", "payer.email", "payer.name", "phone"],
            paths.Order(StringComparer.Ordinal)
        );
    }

    [Fact]
    public void Blank_address_lines_fall_away_and_a_seventh_line_is_refused()
    {
        Assert.Equal(
            ["Mill Lane 4", "Northbrook"],
            Register(new CustomerDetails("Ada", [" Mill Lane 4 ", "", null, "Northbrook"])).Value.AddressLines
        );
        var seven = Register(new CustomerDetails("Ada", ["1", "2", "3", "4", "5", "6", "7"]));
        Assert.Equal("addressLines", Assert.Single(Assert.IsType<Failure.Invalid>(seven.Failure).Errors).Path);
    }

    [Fact]
    public void A_name_over_the_limit_is_refused_and_one_at_the_limit_is_kept()
    {
        Assert.True(Register(new CustomerDetails(new string('x', TextRules.Name))).IsSuccess);
        Assert.False(Register(new CustomerDetails(new string('x', TextRules.Name + 1))).IsSuccess);
    }

    [Fact]
    public void The_bill_goes_to_the_payer_where_there_is_one()
    {
        Assert.Equal("Ada", Register(new CustomerDetails("Ada")).Value.BillTo);
        Assert.Equal(
            "Hill Climb Club",
            Register(new CustomerDetails("Ada", Payer: new PayerDetails("Hill Climb Club"))).Value.BillTo
        );
    }

    [Fact]
    public void Erasing_leaves_nothing_personal_and_is_final()
    {
        var customer = Register(
            new CustomerDetails(
                "Ada",
                ["Mill Lane 4"],
                "ada@example.org",
                "+1 555 0100",
                "T-1",
                "Certificate 7",
                "de",
                new PayerDetails("Club")
            )
        ).Value;

        Assert.True(customer.Erase(At).IsSuccess);

        Assert.Equal(Customer.ErasedName, customer.Name);
        Assert.Empty(customer.AddressLines);
        Assert.Null(customer.Email);
        Assert.Null(customer.Phone);
        Assert.Null(customer.TaxNumber);
        Assert.Null(customer.TaxExemption);
        Assert.Null(customer.Payer);
        Assert.Equal("", customer.SearchText);
        Assert.IsType<Failure.Refused>(customer.Change(new CustomerDetails("Ada")).Failure);
        Assert.IsType<Failure.Refused>(customer.Erase(At).Failure);
    }

    private static Outcome<Customer> Register(CustomerDetails details) =>
        Customer.Register(Ids.New<CustomerId>(At), details, At);
}
