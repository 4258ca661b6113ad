using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Data.Files;
using ShopFloor.Data.History;
using ShopFloor.Data.Idempotency;
using ShopFloor.Data.Identity;
using ShopFloor.Data.Numbers;
using ShopFloor.Domain.Common;

namespace ShopFloor.Data.Configurations.Core;

internal sealed class ShopConfiguration : IEntityTypeConfiguration<Shop>
{
    public void Configure(EntityTypeBuilder<Shop> builder)
    {
        builder.ToTable("Shops");
        builder.Property(s => s.LogoHash).HasMaxLength(64);
        builder.Property(s => s.HoldReasons).HasJsonConversion();
        builder.Property(s => s.Places).HasJsonConversion();
        builder.HasKey(s => s.Id);
        builder.Property(s => s.Name).HasMaxLength(TextRules.Name);
        builder.Property(s => s.LegalName).HasMaxLength(TextRules.Name);
        builder.Property(s => s.Address).HasMaxLength(400);
        builder.Property(s => s.TaxRegistration).HasMaxLength(TextRules.Code);
        builder.Property(s => s.Phone).HasMaxLength(TextRules.Code);
        builder.Property(s => s.Email).HasMaxLength(TextRules.ShortText);
        builder.Property(s => s.OpeningHours).HasMaxLength(TextRules.ShortText);
        builder.Property(s => s.TimeZone).HasMaxLength(64);
        builder.Property(s => s.Accent).HasMaxLength(7);
        builder.Ignore(s => s.Zone);
    }
}

internal sealed class UserConfiguration : IEntityTypeConfiguration<User>
{
    public void Configure(EntityTypeBuilder<User> builder) =>
        builder.Property(u => u.DisplayName).HasMaxLength(TextRules.Name);
}

internal sealed class ApiKeyConfiguration : IEntityTypeConfiguration<ApiKey>
{
    public void Configure(EntityTypeBuilder<ApiKey> builder)
    {
        builder.ToTable("ApiKeys");
        builder.HasKey(k => k.Id);
        builder.Property(k => k.Name).HasMaxLength(TextRules.Name);
        builder.Property(k => k.Hash).HasMaxLength(64);
        builder.Property(k => k.Scopes).HasJsonConversion();
        builder.HasIndex(k => k.Hash).IsUnique();
    }
}

internal sealed class EventRowConfiguration : IEntityTypeConfiguration<EventRow>
{
    public void Configure(EntityTypeBuilder<EventRow> builder)
    {
        builder.ToTable("Events");
        builder.HasKey(e => e.Sequence);
        builder.Property(e => e.Sequence).ValueGeneratedNever();
        builder.HasIndex(e => e.Id).IsUnique();
        builder.HasIndex(e => new { e.Job, e.Sequence });
        builder.HasIndex(e => new { e.SubjectId, e.Sequence });
        builder.HasIndex(e => new { e.Type, e.OccurredAt });
        builder.Property(e => e.Type).HasMaxLength(64);
        builder.Property(e => e.Subject).HasMaxLength(32);
        builder.Property(e => e.Device).HasMaxLength(64);
        builder.Property(e => e.PreviousHash).HasMaxLength(64);
        builder.Property(e => e.Hash).HasMaxLength(64);
    }
}

internal sealed class IdempotencyRecordConfiguration : IEntityTypeConfiguration<IdempotencyRecord>
{
    public void Configure(EntityTypeBuilder<IdempotencyRecord> builder)
    {
        builder.ToTable("IdempotencyRecords");
        builder.HasKey(r => r.Key);
        builder.Property(r => r.Key).HasMaxLength(64);
        builder.Property(r => r.ContentHash).HasMaxLength(64);
        builder.HasIndex(r => r.CreatedAt);
    }
}

internal sealed class NumberSeriesConfiguration : IEntityTypeConfiguration<NumberSeriesRow>
{
    public void Configure(EntityTypeBuilder<NumberSeriesRow> builder)
    {
        builder.ToTable("NumberSeries");
        builder.HasKey(r => new { r.Series, r.Year });
        builder.Property(r => r.Series).HasMaxLength(8);
    }
}

internal sealed class StoredFileConfiguration : IEntityTypeConfiguration<StoredFileRow>
{
    public void Configure(EntityTypeBuilder<StoredFileRow> builder)
    {
        builder.ToTable("StoredFiles");
        builder.HasKey(f => f.Hash);
        builder.Property(f => f.Hash).HasMaxLength(64);
        builder.Property(f => f.ContentType).HasMaxLength(64);
    }
}

internal sealed class FileChunkConfiguration : IEntityTypeConfiguration<FileChunkRow>
{
    public void Configure(EntityTypeBuilder<FileChunkRow> builder)
    {
        builder.ToTable("FileChunks");
        builder.HasKey(c => new { c.Hash, c.Index });
        builder.Property(c => c.Hash).HasMaxLength(64);
    }
}
