using ShopFloor.Application.Inspection;
using ShopFloor.Application.Materials;
using ShopFloor.Documents.Demo;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Materials;

namespace ShopFloor.Application.Demo;

/// <summary>What the demo shop measures with, who is qualified, and what goes into its cars.</summary>
internal sealed record DemoMaterialData(
    IReadOnlyList<DemoInstrumentData> Instruments,
    IReadOnlyList<DemoQualificationData> Qualifications,
    string Procedure,
    IReadOnlyList<DemoPieceData> Pieces,
    IReadOnlyList<DemoMissingData> Missing
);

/// <param name="DueInDays">Calendar days from today; null where it needs no calibration.</param>
internal sealed record DemoInstrumentData(
    string Name,
    InstrumentKind Kind,
    string Unit,
    decimal Uncertainty,
    int? DueInDays,
    string? Note
);

/// <param name="ValidInDays">Calendar days from today.</param>
internal sealed record DemoQualificationData(
    string Person,
    string Process,
    string Standard,
    string Number,
    int ValidInDays
);

/// <param name="Operation">After it the piece is in the car.</param>
/// <param name="Marks">Heats or lots that the rack holds; cars take them in turn.</param>
internal sealed record DemoPieceData(
    string Operation,
    MaterialKind Kind,
    string What,
    string? Size,
    string? Grade,
    IReadOnlyList<string> Marks,
    MaterialOrigin Origin,
    string? From
);

/// <summary>A piece of which nobody knows the heat, and why the owner takes it as it is.</summary>
internal sealed record DemoMissingData(string Job, string What, string Reason);

/// <summary>The fabricators write down what they put in and weld; Rosa keeps the registers.</summary>
internal sealed class DemoMaterials(DemoWorld world, DemoMaterialData data)
{
    private const string Owner = "rosa";
    private readonly Dictionary<string, QualificationView> qualifications = new(StringComparer.Ordinal);
    private readonly Dictionary<string, byte[]> certificates = new(StringComparer.Ordinal);

    public async Task KeepRegistersAsync()
    {
        var today = DateOnly.FromDateTime(world.End.UtcDateTime);
        foreach (var i in data.Instruments)
        {
            var due = i.DueInDays is { } days ? today.AddDays(days) : (DateOnly?)null;
            var instrument = new KeepInstruments.Request(i.Name, i.Kind, i.Unit, i.Uncertainty, due, i.Note);
            await DemoWorld.DoAsync(
                world.Use<KeepInstruments>().AddAsync(instrument, world.By(Owner), default),
                i.Name
            );
        }

        foreach (var q in data.Qualifications)
        {
            var request = new KeepQualifications.Request(
                world.People[q.Person].Person!.Value.Value,
                q.Process,
                q.Standard,
                q.Number,
                today.AddDays(q.ValidInDays)
            );
            qualifications[q.Person] = await DemoWorld.DoAsync(
                world.Use<KeepQualifications>().AddAsync(request, world.By(Owner), default),
                q.Number
            );
        }
    }

    /// <summary>What went in with an operation, and who welded its joints.</summary>
    public async Task FollowAsync(DemoJob job, string code, string person)
    {
        if (job.Data.Kit is null || job.Data.Car is null)
        {
            return;
        }

        foreach (var piece in data.Pieces.Where(p => p.Operation == code))
        {
            await EnterAsync(job, piece, person);
        }

        var trace = await DoAsync(job, world.Use<ReadTrace>().RunAsync(job.Id!.Value, world.By(person).Actor, default));
        var joints = trace.Joints.Where(j => j.Operation == code).Select(j => j.Code).ToList();
        if (joints.Count == 0)
        {
            return;
        }

        int? NumberOf(MaterialKind kind) => trace.Materials.FirstOrDefault(m => m.Kind == kind)?.Number;
        var weld = new KeepWelds.Request(
            joints,
            QualificationId: qualifications.GetValueOrDefault(person)?.Id.Value,
            Procedure: data.Procedure,
            Filler: NumberOf(MaterialKind.Filler),
            Gas: NumberOf(MaterialKind.Gas)
        );
        await DoAsync(job, world.Use<KeepWelds>().WeldAsync(job.Id.Value, weld, world.By(person), default));
    }

    /// <summary>Rosa takes as it is what the story says that nobody knows.</summary>
    public async Task AcceptAsync(DemoJob job)
    {
        if (data.Missing.FirstOrDefault(m => m.Job == job.Data.Key) is { } missing)
        {
            await DoAsync(
                job,
                world
                    .Use<AcceptTraceGaps>()
                    .RunAsync(job.Id!.Value, new(Reason: missing.Reason), world.By(Owner), default)
            );
        }
    }

    private async Task EnterAsync(DemoJob job, DemoPieceData piece, string person)
    {
        var isUnknown = data.Missing.Any(m => m.Job == job.Data.Key && m.What == piece.What);
        var mark = isUnknown ? null : piece.Marks[job.Number % piece.Marks.Count];
        var request = new KeepMaterials.Request(
            piece.Kind,
            piece.What,
            piece.Size,
            piece.Grade,
            mark,
            piece.Origin,
            piece.From
        );
        var certificate =
            mark is not null && piece.Kind.WantsCertificate() ? CertificateOf(piece, mark) : ReadOnlyMemory<byte>.Empty;
        await DoAsync(
            job,
            world.Use<KeepMaterials>().EnterAsync(job.Id!.Value, request, certificate, world.By(person), default)
        );
    }

    /// <summary>One paper for each heat, however many cars it went into.</summary>
    private ReadOnlyMemory<byte> CertificateOf(DemoPieceData piece, string mark)
    {
        if (!certificates.TryGetValue(mark, out var paper))
        {
            paper = DemoCertificate.Pdf([
                $"{piece.Kind.Title()}, {piece.Size}, {piece.Grade}",
                $"Heat {mark}",
                "Supplier: Tarnside Tube Merchants (invented)",
            ]);
            certificates[mark] = paper;
        }

        return paper;
    }

    private static Task<T> DoAsync<T>(DemoJob job, Task<Outcome<T>> task) => DemoWorld.DoAsync(task, job.Data.Key);
}
