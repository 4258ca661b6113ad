using System.Security.Cryptography;
using System.Text;
using CsCheck;
using ShopFloor.Application.SignIns;

namespace ShopFloor.Web.Tests.SignIns;

public sealed class SecretsTests
{
    /// <summary>RFC 6238, appendix B, rows for SHA-1; the last six of its eight digits, which is what a code of six digits is (RFC 4226, 5.3).</summary>
    [Theory]
    [InlineData(59, "287082", 0x1)]
    [InlineData(1111111109, "081804", 0x23523EC)]
    [InlineData(1111111111, "050471", 0x23523ED)]
    [InlineData(1234567890, "005924", 0x273EF07)]
    [InlineData(2000000000, "279037", 0x3F940AA)]
    [InlineData(20000000000, "353130", 0x27BC86AA)]
    public void Codes_are_those_of_the_standard(long seconds, string code, long step)
    {
        var secret = Encoding.ASCII.GetBytes("12345678901234567890");
        var at = DateTimeOffset.FromUnixTimeSeconds(seconds);

        Assert.Equal(step, SignInSecrets.StepOf(secret, code, at));
        Assert.Equal(code, AppCode.Of(secret, at));
        Assert.Equal(step, SignInSecrets.StepOf(secret, code, at.AddSeconds(30)));
        Assert.Null(SignInSecrets.StepOf(secret, code, at.AddSeconds(90)));
    }

    [Theory]
    [InlineData("")]
    [InlineData("28708")]
    [InlineData("2870822")]
    [InlineData("28708a")]
    [InlineData("٢٨٧٠٨٢")]
    public void What_is_no_code_is_none(string code) =>
        Assert.Null(
            SignInSecrets.StepOf(
                Encoding.ASCII.GetBytes("12345678901234567890"),
                code,
                DateTimeOffset.FromUnixTimeSeconds(59)
            )
        );

    [Fact]
    public void Codes_on_paper_have_enough_chance_in_them()
    {
        var codes = Enumerable.Range(0, 200).Select(_ => SignInSecrets.NewRecoveryCode()).ToList();

        Assert.Equal(200, codes.Distinct().Count());
        Assert.All(codes, c => Assert.Matches("^[A-Z2-9]{24}$", c));
        // 24 signs of 32 are 120 bits; all 32 appear.
        Assert.Equal(32, codes.SelectMany(c => c).Distinct().Count());
        Assert.Equal("ABCDEF-GHJKLM-NPQRST-UVWXYZ", SignInSecrets.Said("ABCDEFGHJKLMNPQRSTUVWXYZ"));
    }

    [Theory]
    [InlineData("correct horse battery", true)]
    [InlineData("nine chars", true)]
    [InlineData("too short", false)]
    [InlineData("aaaaaaaaaaaaaa", false)]
    [InlineData("Password123", false)]
    [InlineData("maren.holt@shop.example", false)]
    [InlineData("Maren Holt 1", false)]
    [InlineData("Maren likes green tubes", true)]
    public void Password_is_long_and_not_what_others_try_first(string password, bool isGood) =>
        Assert.Equal(
            isGood,
            new PasswordRule(new BreachedPasswords(null)).Problem(password, "Maren Holt", "maren.holt@shop.example")
                is null
        );

    /// <summary>Random lists, with and without counts, with either line ending, with and without an end of the last line.</summary>
    [Fact]
    public void Leaked_password_is_found_in_a_sorted_file_of_any_size()
    {
        var folder = Directory.CreateTempSubdirectory("shopfloor-leaked");
        try
        {
            Gen.Select(
                    Gen.String[Gen.Char.AlphaNumeric, 1, 12].Array[0, 60],
                    Gen.Bool.Select(b => b ? "\n" : "\r\n"),
                    Gen.Int[0, 2].Select(i => new[] { "", ":1", ":1234567" }[i]),
                    Gen.Bool
                )
                .Sample(
                    (words, end, count, isEnded) =>
                    {
                        var file = Path.Combine(folder.FullName, Guid.CreateVersion7().ToString("N"));
                        var lines = words
                            .Select(HashOf)
                            .Distinct()
                            .Order(StringComparer.Ordinal)
                            .Select(h => h + count);
                        File.WriteAllText(file, string.Join(end, lines) + (isEnded ? end : ""));
                        var list = new BreachedPasswords(file);
                        Assert.All(words, w => Assert.True(list.Has(w), w));
                        Assert.False(list.Has("not among them"));
                        File.Delete(file);
                    },
                    iter: 200
                );
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public void Leaked_password_is_refused_in_words()
    {
        var file = Path.GetTempFileName();
        try
        {
            File.WriteAllText(file, HashOf("trustno1 trustno1") + ":42\n");
            var rule = new PasswordRule(new BreachedPasswords(file));

            Assert.Contains("leaked", rule.Problem("trustno1 trustno1"), StringComparison.Ordinal);
            Assert.Null(rule.Problem("trust nobody at all"));
        }
        finally
        {
            File.Delete(file);
        }
    }

#pragma warning disable CA5350 // Such lists are made of SHA-1.
    private static string HashOf(string word) => Convert.ToHexString(SHA1.HashData(Encoding.UTF8.GetBytes(word)));
#pragma warning restore CA5350
}
