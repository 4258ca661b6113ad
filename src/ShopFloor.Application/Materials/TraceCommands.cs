using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Routing;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Materials;

/// <summary>What all changes of a job's material and welds have in common.</summary>
public sealed class TraceChange(CommandRunner runner, TimeProvider clock) : IUseCase
{
    /// <summary>A job with what is written down of it, as a change sees it.</summary>
    internal sealed record Open(CommandScope Scope, Job Job, JobTrace Trace)
    {
        public Hand Hand => new(Scope.Actor.Person, Scope.OccurredAt, Scope.Now);
    }

    /// <summary>What a change did, for the history.</summary>
    internal sealed record Told(string Event, string Subject, Guid Id, object After);

    internal Task<Outcome<TraceView>> RunAsync(
        Permission permission,
        JobId id,
        object content,
        Envelope envelope,
        Func<Open, Task<Outcome<Told>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<TraceView>(
            permission,
            envelope,
            content,
            async scope =>
            {
                var job = await scope.Db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, ct);
                var trace = await scope.Db.TraceAsync(id, ct);
                if (job is null || trace is null)
                {
                    return Failure.Missing("job");
                }

                if (InspectionLoading.Over(job) is { } over)
                {
                    return over;
                }

                if (await scope.Db.Set<SignOff>().AnyAsync(s => s.JobId == id && s.WithdrawnAt == null, ct))
                {
                    return Failure.Because(
                        "signedOff",
                        "The car is signed off. Withdraw the sign-off with its reason before material or welds are changed."
                    );
                }

                if (scope.Stale(trace) is { } stale)
                {
                    return stale;
                }

                if (!(await act(new Open(scope, job, trace))).TryGet(out var told, out var failure))
                {
                    return failure;
                }

                scope.Db.Touch(trace);
                scope.Record(new EventDraft(told.Event, told.Subject, told.Id, id, After: told.After));
                await scope.SaveAsync();
                return await TraceViews.OfAsync(scope.Db, job, trace, clock.GetUtcNow(), ct);
            },
            ct
        );

    internal static Outcome<Told> Tell(string type, Outcome<JobMaterial> changed) =>
        changed.Then<Told>(m => new Told(
            type,
            "jobMaterial",
            m.Id.Value,
            new
            {
                number = m.Number.ToString(System.Globalization.CultureInfo.InvariantCulture),
                m.Kind,
                m.Latest.What,
                m.Latest.Size,
                m.Latest.Mark,
                certificate = m.Latest.Certificate?.StoredSha256,
                entry = m.Entries.Count,
                counts = m.Counts,
            }
        ));
}

/// <summary>Writes down a piece of material, corrects it, puts its certificate beside it, takes it out.</summary>
public sealed class KeepMaterials(TraceChange change, IFileStore files, IImageProcessor images) : IUseCase
{
    public const int MostBytes = PaperFile.MostBytes;

    /// <param name="Kind">tube, plate, hinge, bolt, filler or gas; not asked for on a correction.</param>
    /// <param name="What">The piece; of filler its classification, of gas its designation.</param>
    /// <param name="Size">Of filler its diameter; may be left out for gas.</param>
    /// <param name="Mark">Heat or lot number.</param>
    /// <param name="Origin">stock, bought or customer.</param>
    /// <param name="From">Which stock, supplier or part of the customer's.</param>
    /// <param name="Reason">On a correction: why.</param>
    public sealed record Request(
        MaterialKind? Kind = null,
        string? What = null,
        string? Size = null,
        string? Grade = null,
        string? Mark = null,
        MaterialOrigin? Origin = null,
        string? From = null,
        string? Reason = null
    )
    {
        internal JobMaterial.Details Details => new(What, Size, Grade, Mark, Origin, From);
    }

    /// <param name="certificate">The supplier's certificate; empty where it comes later.</param>
    public async Task<Outcome<TraceView>> EnterAsync(
        JobId job,
        Request request,
        ReadOnlyMemory<byte> certificate,
        Envelope envelope,
        CancellationToken ct
    )
    {
        (ReadOnlyMemory<byte> Content, string Type) paper = default;
        if (
            certificate.Length > 0
            && !(await PaperFile.ReadAsync(images, certificate, "certificate", ct)).TryGet(out paper, out var unread)
        )
        {
            return unread;
        }

        return await change.RunAsync(
            Permission.KeepTrace,
            job,
            new
            {
                job,
                request,
                Sha256 = FileHash.Of(certificate.Span),
            },
            envelope,
            async open =>
            {
                // What is refused is rolled back, the file's row with it.
                var file = certificate.Length == 0 ? null : await StoreAsync(open.Scope, certificate, paper);
                return TraceChange.Tell(
                    "material.entered",
                    open.Trace.Enter(request.Kind, request.Details, open.Hand, file)
                );
            },
            ct
        );
    }

    public Task<Outcome<TraceView>> CorrectAsync(
        JobId job,
        JobMaterialId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync(
            job,
            id,
            request,
            "material.corrected",
            open => open.Trace.Correct(id, request.Details, request.Reason, open.Hand),
            envelope,
            ct
        );

    public Task<Outcome<TraceView>> WithdrawAsync(
        JobId job,
        JobMaterialId id,
        string? reason,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync(
            job,
            id,
            reason,
            "material.withdrawn",
            open => open.Trace.Withdraw(id, reason, open.Hand),
            envelope,
            ct
        );

    public async Task<Outcome<TraceView>> CertifyAsync(
        JobId job,
        JobMaterialId id,
        ReadOnlyMemory<byte> certificate,
        Envelope envelope,
        CancellationToken ct
    ) =>
        (await PaperFile.ReadAsync(images, certificate, "certificate", ct)).TryGet(out var paper, out var unread)
            ? await change.RunAsync(
                Permission.KeepTrace,
                job,
                new
                {
                    job,
                    id,
                    Sha256 = FileHash.Of(certificate.Span),
                },
                envelope,
                async open =>
                    TraceChange.Tell(
                        "material.certified",
                        open.Trace.Certify(id, await StoreAsync(open.Scope, certificate, paper), open.Hand)
                    ),
                ct
            )
            : unread;

    private Task<Outcome<TraceView>> OneAsync(
        JobId job,
        JobMaterialId id,
        object? content,
        string eventType,
        Func<TraceChange.Open, Outcome<JobMaterial>> act,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.KeepTrace,
            job,
            new
            {
                job,
                id,
                content,
            },
            envelope,
            open => Task.FromResult(TraceChange.Tell(eventType, act(open))),
            ct
        );

    private async Task<CertificateFile> StoreAsync(
        CommandScope scope,
        ReadOnlyMemory<byte> sent,
        (ReadOnlyMemory<byte> Content, string Type) paper
    ) =>
        new(
            FileHash.Of(sent.Span),
            await files.StoreAsync(scope, paper.Content, paper.Type),
            paper.Type == PdfSniffer.ContentType
        );
}

/// <summary>Writes down who welded what, adds joints that are on no list.</summary>
public sealed class KeepWelds(TraceChange change) : IUseCase
{
    /// <param name="Joints">Codes of the joints that were welded alike.</param>
    /// <param name="Welder">Absent: whoever writes it down.</param>
    /// <param name="QualificationId">From the register; absent where there is none, which the sign-off asks about.</param>
    /// <param name="Procedure">The welding procedure as the shop names it.</param>
    /// <param name="Filler">Number of the job's filler.</param>
    /// <param name="Gas">Number of the job's shielding gas.</param>
    /// <param name="On">The local day of the weld; absent: today.</param>
    public sealed record Request(
        IReadOnlyList<string>? Joints = null,
        Guid? Welder = null,
        Guid? QualificationId = null,
        string? Procedure = null,
        int? Filler = null,
        int? Gas = null,
        DateOnly? On = null,
        string? Note = null
    );

    public Task<Outcome<TraceView>> WeldAsync(JobId job, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.KeepTrace,
            job,
            new { job, request },
            envelope,
            async open =>
            {
                var scope = open.Scope;
                var welder = request.Welder ?? scope.Actor.Person?.Value;
                if (welder is { } named && !await scope.Db.Users.AnyAsync(u => u.Id == named, ct))
                {
                    return Failure.Field("welder", "Choose who welded it from the list.");
                }

                WelderQualification? qualification = null;
                if (request.QualificationId is { } wanted)
                {
                    var of = WelderQualificationId.From(wanted);
                    qualification = await scope.Db.Set<WelderQualification>().SingleOrDefaultAsync(q => q.Id == of, ct);
                    if (qualification is null)
                    {
                        return Failure.Field("qualificationId", "There is no such qualification in the register.");
                    }
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.OccurredAt);
                var welded = open.Trace.Weld(
                    new JobTrace.WeldDetails(
                        request.Joints,
                        welder is { } w ? PersonId.From(w) : null,
                        qualification,
                        request.Procedure,
                        request.Filler,
                        request.Gas,
                        request.On,
                        today,
                        request.Note
                    ),
                    open.Hand
                );
                return welded.Then<TraceChange.Told>(joints => new TraceChange.Told(
                    "weld.writtenDown",
                    "jobTrace",
                    job.Value,
                    new
                    {
                        joints = joints.Select(j => j.Code),
                        welder = joints[0].Latest!.Welder,
                        joints[0].Latest!.Qualification,
                        joints[0].Latest!.Procedure,
                        joints[0].Latest!.On,
                        expired = joints[0].Latest!.IsExpired,
                    }
                ));
            },
            ct
        );

    public Task<Outcome<TraceView>> AddJointAsync(
        JobId job,
        string? what,
        string? operation,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.KeepTrace,
            job,
            new
            {
                job,
                what,
                operation,
            },
            envelope,
            open =>
                Task.FromResult(
                    open.Trace.AddJoint(
                            what,
                            operation,
                            open.Job.Operations.Select(o => o.Code).ToHashSet(StringComparer.Ordinal),
                            open.Scope.Now
                        )
                        .Then<TraceChange.Told>(j => new TraceChange.Told(
                            "joint.added",
                            "jobTrace",
                            job.Value,
                            new
                            {
                                code = j.Code,
                                j.What,
                                operation = j.OperationCode,
                            }
                        ))
                ),
            ct
        );
}

/// <summary>The owner takes what is missing as it is, with a reason that the papers say.</summary>
public sealed class AcceptTraceGaps(TraceChange change) : IUseCase
{
    /// <param name="Gaps">Keys of what is accepted; absent: all that is open now.</param>
    public sealed record Request(IReadOnlyList<string>? Gaps = null, string? Reason = null);

    public Task<Outcome<TraceView>> RunAsync(JobId job, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.AcceptNonconformances,
            job,
            new { job, request },
            envelope,
            open =>
                Task.FromResult(
                    open.Trace.Accept(
                            TraceLoading.NotNeeded(open.Job),
                            request.Gaps,
                            request.Reason,
                            open.Scope.Actor.Person,
                            open.Scope.Now
                        )
                        .Then<TraceChange.Told>(a => new TraceChange.Told(
                            "trace.gapsAccepted",
                            "jobTrace",
                            job.Value,
                            new { gaps = a.Gaps.Select(g => g.Key) }
                        ))
                ),
            ct
        );
}

/// <summary>Gives out a certificate that was put beside a piece of material.</summary>
public sealed class ReadCertificate(QueryRunner queries, IFileStore files) : IUseCase
{
    /// <param name="entry">Number of the entry; null: the latest.</param>
    public Task<Outcome<StoredFile>> RunAsync(JobMaterialId id, int? entry, Actor actor, CancellationToken ct) =>
        queries.RunAsync<StoredFile>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var material = await db.Set<JobMaterial>().AsNoTracking().SingleOrDefaultAsync(m => m.Id == id, ct);
                var wanted = entry is { } number ? material?.Entries.ElementAtOrDefault(number - 1) : material?.Latest;
                return
                    wanted?.Certificate is { } certificate
                    && await files.ReadAsync(certificate.StoredSha256, ct) is { } file
                    ? file
                    : Failure.Missing("certificate");
            },
            ct
        );
}
