using System.Collections;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization;
using CsCheck;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting.Books;

public sealed class PriceBookComparisonTests
{
    /// <summary>A field that is added to a record of the price book and not to its list of fields would be seen by no comparison, form or file.</summary>
    [Fact]
    public void Every_field_of_every_record_of_the_price_book_is_listed()
    {
        var real = FieldsOf(typeof(PriceBook), "").Except(BookSections.Identity).Order(StringComparer.Ordinal);
        var listed = BookSections
            .OwnFields.Select(f => f.Name)
            .Concat(BookSections.OwnTables.SelectMany(t => Listed(t, "")))
            .Order(StringComparer.Ordinal);

        Assert.Equal(real, listed);
    }

    [Fact]
    public void Full_test_book_leaves_no_field_blank_everywhere()
    {
        var filled = FullBook
            .Cells(BookRows.Of(FullBook.Book))
            .Where(c => !string.IsNullOrEmpty(c.Row[c.Field]))
            .Select(c => c.Field)
            .Distinct()
            .Count();

        Assert.Equal(FullBook.Cells(BookRows.Of(FullBook.Book)).Select(c => c.Field).Distinct().Count(), filled);
    }

    [Fact]
    public void Book_survives_being_written_as_rows_and_read_again()
    {
        var again = FullBook.Read(BookRows.Of(FullBook.Book));

        Assert.Equal(FullBook.JsonOf(FullBook.Book), FullBook.JsonOf(again));
    }

    [Fact]
    public void Every_single_changed_field_is_reported_exactly_once()
    {
        var count = FullBook.Cells(BookRows.Of(FullBook.Book)).Count();
        for (var i = 0; i < count; i++)
        {
            var root = BookRows.Of(FullBook.Book);
            var (row, field, isKey, path) = FullBook.Cells(root).ElementAt(i);
            row[field] = FullBook.Other(field, row[field]);
            var changes = PriceBookComparison.Between(FullBook.Book, FullBook.Read(root)).Changes;
            if (isKey)
            {
                Assert.Equal([BookChangeKind.Removed, BookChangeKind.Added], changes.Select(c => c.Kind));
            }
            else
            {
                var change = Assert.Single(changes);
                Assert.Equal((path, BookChangeKind.Changed), (change.Path, change.Kind));
                Assert.Contains(field.Label, change.Sentence, StringComparison.Ordinal);
            }
        }

        Assert.True(count > 200, $"Only {count} fields were changed.");
    }

    [Fact]
    public void Changed_currency_is_reported()
    {
        var change = Assert.Single(
            PriceBookComparison.Between(FullBook.Book, FullBook.Book with { CurrencyCode = "USD" }).Changes
        );

        Assert.Equal("currency EUR → USD", change.Sentence);
    }

    /// <summary>Any set of changed fields gives as many changes, and none is a comparison of a book with itself.</summary>
    [Fact]
    public void As_many_changes_are_reported_as_fields_were_changed()
    {
        var plain = FullBook.Cells(BookRows.Of(FullBook.Book)).Select((c, i) => (c.IsKey, i)).Where(c => !c.IsKey);
        var places = plain.Select(c => c.i).ToArray();
        Gen.Int[0, places.Length - 1]
            .HashSet[0, 12]
            .Sample(
                chosen =>
                {
                    var root = BookRows.Of(FullBook.Book);
                    var cells = FullBook.Cells(root).ToList();
                    foreach (var place in chosen)
                    {
                        var (row, field, _, _) = cells[places[place]];
                        row[field] = FullBook.Other(field, row[field]);
                    }

                    var changed = FullBook.Read(root);
                    Assert.Equal(chosen.Count, PriceBookComparison.Between(FullBook.Book, changed).Changes.Count);
                    Assert.Equal(chosen.Count, PriceBookComparison.Between(changed, FullBook.Book).Changes.Count);
                    Assert.True(PriceBookComparison.Between(changed, changed).IsSame);
                },
                iter: 300
            );
    }

    [Fact]
    public void Change_reads_as_a_sentence()
    {
        var book = FullBook.Book;
        var changed = book with
        {
            HingeOptions = [book.HingeOptions[0], book.HingeOptions[1] with { PriceMinor = 10_500 }],
            Kits = [book.Kits[0] with { Parts = [book.Kits[0].Parts[0] with { WallMm = 3 }] }, book.Kits[1]],
            Taxes = [book.Taxes[0]],
            OutsideWork = [.. book.OutsideWork, new("bend", "Bending", 3_000, 2_000, 2, ["t"])],
            Minimum = null,
        };

        Assert.Equal(
            [
                "minimum charge 95.00 → none",
                "taxes on the minimum charge t → none",
                "Kit Bar with door bars, part Main hoop: wall 2.5 mm → 3 mm",
                "Hinge option swing-out: price 90.00 → 105.00",
                "Work sent out Bending: added (price 30.00, taxes t, cost 20.00, comes back after 2 days)",
                "Tax Other tax: removed (was: rates: 2020-01-01)",
            ],
            PriceBookComparison.Between(book, changed).Changes.Select(c => c.Sentence)
        );
    }

    [Fact]
    public void Entries_in_another_order_are_one_change()
    {
        var turned = FullBook.Book with { Kits = [FullBook.Book.Kits[1], FullBook.Book.Kits[0]] };

        var change = Assert.Single(PriceBookComparison.Between(FullBook.Book, turned).Changes);
        Assert.Equal("Kits: kits in another order", change.Sentence);
    }

    [Fact]
    public void Two_entries_with_one_code_are_told_apart()
    {
        var twice = FullBook.Book with { Kits = [.. FullBook.Book.Kits, FullBook.Book.Kits[0]] };

        Assert.Equal(
            BookChangeKind.Added,
            Assert.Single(PriceBookComparison.Between(FullBook.Book, twice).Changes).Kind
        );
    }

    private static IEnumerable<string> Listed(BookTable table, string path) =>
        table
            .Fields.Select(f => $"{path}{table.Name}.{f.Name}")
            .Concat(table.Tables.SelectMany(t => Listed(t, $"{path}{table.Name}.")));

    /// <summary>Every property that is stored, down to plain values.</summary>
    private static IEnumerable<string> FieldsOf(Type record, string path) =>
        record
            .GetProperties(BindingFlags.Public | BindingFlags.Instance)
            .Where(p => p.GetCustomAttribute<JsonIgnoreAttribute>() is null)
            .SelectMany(p =>
            {
                var name = path + JsonNamingPolicy.CamelCase.ConvertName(p.Name);
                var type = Nullable.GetUnderlyingType(p.PropertyType) ?? p.PropertyType;
                var item =
                    type.IsGenericType && type.IsAssignableTo(typeof(IEnumerable))
                        ? type.GetGenericArguments()[0]
                        : type;
                return item.IsClass && item != typeof(string) ? FieldsOf(item, name + ".") : [name];
            });
}
