using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Data;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Workbench;

/// <summary>A paper or outline of the workbench.</summary>
public sealed record BenchFile(byte[] Content, string ContentType, string FileName);

/// <summary>Makes a paper of a calculator from the figures in an address; nothing is stored.</summary>
public sealed class PrintBenchPaper(QueryRunner runner, IWorkbenchPapers papers, TimeProvider clock) : IUseCase
{
    /// <param name="code">The calculator.</param>
    /// <param name="file">The paper, e.g. <c>wrap.pdf</c>.</param>
    /// <param name="query">The figures by field; absent ones are as the calculator starts.</param>
    /// <param name="size">Absent: the shop's usual sheet.</param>
    /// <param name="actor">Who prints.</param>
    /// <param name="ct">Gives up.</param>
    public Task<Outcome<BenchFile>> RunAsync(
        string code,
        string file,
        Func<string, string?> query,
        PaperSize? size,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<BenchFile>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                if (Benches.Find(code) is not { } sheet)
                {
                    return Failure.Missing("calculator");
                }

                var shop = await db.Shops.SingleAsync(ct);
                return BenchValues
                    .Read(sheet, shop.LengthUnit, query)
                    .Then(values =>
                        BenchPapers.Make(
                            papers,
                            sheet,
                            values,
                            file,
                            shop.Name,
                            Reference(query("reference")),
                            PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())
                        )
                    );
            },
            ct
        );

    /// <summary>A job's number and operation, as the page passes them on for the head of the paper.</summary>
    private static string? Reference(string? text) =>
        string.IsNullOrWhiteSpace(text) || text.Length > 80 || text.Any(char.IsControl) ? null : text.Trim();
}

/// <summary>Makes one paper of a calculator's answer.</summary>
internal static class BenchPapers
{
    /// <param name="papers">Writes them.</param>
    /// <param name="sheet">The calculator.</param>
    /// <param name="values">What was typed.</param>
    /// <param name="file">Which paper, e.g. <c>wrap.pdf</c>.</param>
    /// <param name="shopName">At its head.</param>
    /// <param name="reference">Job, car, operation and what it is for; null for a loose paper.</param>
    /// <param name="settings">Its sheet.</param>
    public static Outcome<BenchFile> Make(
        IWorkbenchPapers papers,
        BenchSheet sheet,
        BenchValues values,
        string file,
        string shopName,
        string? reference,
        PaperSettings settings
    )
    {
        if (!sheet.Answer(values).TryGet(out var answer, out var failure))
        {
            return failure;
        }

        return answer.Papers.FirstOrDefault(p => p.File == file) is { } paper
            ? paper
                .Make(papers, new WorkbenchHead(shopName, answer.Name, reference, values.Divisions), settings)
                .Then<BenchFile>(content => new BenchFile(content, paper.ContentType, $"{sheet.Code}-{file}"))
            : Failure.Missing("paper");
    }
}
