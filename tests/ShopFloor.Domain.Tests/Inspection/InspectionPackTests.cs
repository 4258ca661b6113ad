using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Inspection.Packs;

namespace ShopFloor.Domain.Tests.Inspection;

/// <summary>A frozen record keeps its hash whatever is forgotten beside it, and any change of it is found.</summary>
public sealed class InspectionPackTests
{
    private static readonly Guid Customer = new("01950000-0000-7000-8000-0000000000c1");
    private static readonly SignOffId SignOff = SignOffId.From(new Guid("01950000-0000-7000-8000-0000000000d1"));

    [Fact]
    public void Hash_is_that_of_the_bytes_that_are_given_out()
    {
        var pack = Frozen();

        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(pack.Record))), pack.RecordHash);
        Assert.Equal(pack.Record, CanonicalJson.Write(JsonNode.Parse(pack.Record)));
        Assert.Empty(pack.Audit());
    }

    [Fact]
    public void Record_names_nobody()
    {
        Assert.DoesNotContain("Tove", Frozen().Record, StringComparison.Ordinal);
        Assert.DoesNotContain("Ada", Frozen().Record, StringComparison.Ordinal);
        Assert.Equal("Ada Kremer", Frozen().Names()[Customer]);
    }

    [Fact]
    public void Record_reads_back_as_it_was_frozen()
    {
        var pack = Frozen();

        Assert.Equal(pack.Record, InspectionPack.Write(pack.Read()));
        Assert.Equal(0.25m, pack.Read().Lines[0].Readings[0].Value);
        Assert.Equal(
            [
                [0, 0, 1000, 1000],
            ],
            pack.StrokesOf(Sample.Inspector)
        );
    }

    [Fact]
    public void Forgetting_a_person_leaves_record_and_hash_as_they_were()
    {
        var pack = Frozen();
        var (record, hash) = (pack.Record, pack.RecordHash);

        pack.Forget(Customer);
        pack.Forget(Sample.Inspector.Value);

        Assert.Equal((record, hash), (pack.Record, pack.RecordHash));
        Assert.Empty(pack.Audit());
        Assert.Empty(pack.Names());
        Assert.Null(pack.StrokesOf(Sample.Inspector));
    }

    [Fact]
    public void The_same_name_gets_another_seal_each_time()
    {
        Assert.NotEqual(
            PrivateFact.Salted(PrivateKind.Name, Customer, "Ada Kremer").Seal().Sha256,
            PrivateFact.Salted(PrivateKind.Name, Customer, "Ada Kremer").Seal().Sha256
        );
    }

    [Fact]
    public void Every_flipped_byte_of_a_record_is_found()
    {
        var pack = Frozen();
        for (var at = 0; at < pack.Record.Length; at++)
        {
            var flipped = Frozen();
            var text = pack.Record.ToCharArray();
            text[at] = (char)(text[at] ^ 1);
            Set(flipped, nameof(InspectionPack.Record), new string(text));
            Set(flipped, nameof(InspectionPack.RecordHash), pack.RecordHash);
            Assert.NotEmpty(flipped.Audit());
        }
    }

    [Fact]
    public void Changed_name_beside_the_record_is_found()
    {
        var pack = Frozen();
        Set(
            pack,
            nameof(InspectionPack.Private),
            (IReadOnlyList<PrivateFact>)[.. pack.Private.Select(f => f with { Content = f.Content + "x" })]
        );

        Assert.Equal(["a name or signature beside it was changed"], pack.Audit());
    }

    private static InspectionPack Frozen() =>
        InspectionPack.Freeze(
            SignOff,
            Sample.Job,
            new PackRecord(
                PackRecord.CurrentSchema,
                "J-2026-0001",
                Sample.Job.Value,
                new PackCar(null, "Ferrow Lynx 2005", "WX0000000000001"),
                "Six-point weld-in",
                "sample",
                1,
                [new("house-street", 1, "The shop", "2026", new DateOnly(2026, 3, 1))],
                [
                    new(
                        "hoop-upright",
                        "120",
                        "Hoop upright",
                        "Level on the hoop",
                        "°",
                        0,
                        -1,
                        1,
                        InspectionPoint.Hold,
                        "Common practice",
                        null,
                        LineState.Passed,
                        [
                            new(
                                1,
                                0.25m,
                                "1/4",
                                null,
                                null,
                                "Level 2",
                                0.1m,
                                true,
                                null,
                                [],
                                null,
                                Sample.Inspector.Value,
                                Sample.Noon,
                                Sample.Noon
                            ),
                        ]
                    ),
                ],
                [],
                [new("120", "Hoop", true, [Sample.Welder.Value], Sample.Noon)],
                [],
                [new(SignOff.Value, Sample.Inspector.Value, Sample.Noon, false, null, null, null, null)],
                ["A caution."],
                []
            ),
            [
                PrivateFact.Salted(PrivateKind.Name, Customer, "Ada Kremer"),
                PrivateFact.Salted(PrivateKind.Name, Sample.Inspector.Value, "Tove Brandt"),
                PrivateFact.Salted(PrivateKind.Signature, Sample.Inspector.Value, "[[0,0,1000,1000]]"),
            ],
            Sample.Noon
        );

    private static void Set(InspectionPack pack, string property, object value) =>
        typeof(InspectionPack).GetProperty(property)!.SetValue(pack, value);
}
