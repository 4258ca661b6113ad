using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Data.Configurations.Accounts;

internal sealed class JobAccountConfiguration : IEntityTypeConfiguration<JobAccount>
{
    public void Configure(EntityTypeBuilder<JobAccount> builder)
    {
        builder.ToTable("JobAccounts");
        builder.HasKey(a => a.Id);
        builder.Property(a => a.Id).ValueGeneratedNever();
        builder.HasOne<Customer>().WithMany().HasForeignKey(a => a.CustomerId);
        builder.HasOne<Quote>().WithMany().HasForeignKey(a => a.QuoteId);
        builder.HasMany(a => a.Entries).WithOne().HasForeignKey(e => e.JobId);
        builder.Navigation(a => a.Entries).UsePropertyAccessMode(PropertyAccessMode.Field).AutoInclude();
        builder.HasMany(a => a.Charges).WithOne().HasForeignKey(c => c.JobId);
        builder.Navigation(a => a.Charges).UsePropertyAccessMode(PropertyAccessMode.Field).AutoInclude();
        builder.Property(a => a.Decisions).HasJsonConversion();
        builder
            .Ignore(a => a.BalanceMinor)
            .Ignore(a => a.ChargedMinor)
            .Ignore(a => a.PaidMinor)
            .Ignore(a => a.TradeCreditMinor)
            .Ignore(a => a.NotInvoicedMinor)
            .Ignore(a => a.InvoicedMinor)
            .Ignore(a => a.IsSettled)
            .Ignore(a => a.DepositMissingMinor)
            .Ignore(a => a.WaitsForDeposit)
            .Ignore(a => a.MayGo);
    }
}

internal sealed class AgreedChargeConfiguration : IEntityTypeConfiguration<AgreedCharge>
{
    public void Configure(EntityTypeBuilder<AgreedCharge> builder)
    {
        builder.ToTable("AgreedCharges");
        builder.HasKey(c => c.Id);
        builder.Property(c => c.Id).ValueGeneratedNever();
        builder.HasIndex(c => new { c.JobId, c.Number }).IsUnique();
        builder.Property(c => c.Reference).HasMaxLength(TextRules.Code);
        builder.Property(c => c.Content).HasJsonConversion();
        builder.Property(c => c.Settled).HasJsonConversion();
        builder.Ignore(c => c.Counted);
    }
}

internal sealed class LedgerEntryConfiguration : IEntityTypeConfiguration<LedgerEntry>
{
    public void Configure(EntityTypeBuilder<LedgerEntry> builder)
    {
        builder.ToTable("LedgerEntries");
        builder.HasKey(e => e.Id);
        builder.Property(e => e.Id).ValueGeneratedNever();
        builder.HasIndex(e => new { e.JobId, e.Sequence }).IsUnique();
        builder.HasIndex(e => e.Receipt).IsUnique();
        builder.HasIndex(e => e.Reverses).IsUnique();
        builder.HasIndex(e => e.On);
        builder.Property(e => e.Description).HasMaxLength(TextRules.Note);
        builder.Property(e => e.Reference).HasMaxLength(TextRules.ShortText);
        builder.Property(e => e.Receipt).HasMaxLength(32);
        builder.Property(e => e.GivenBy).HasMaxLength(TextRules.Name);
        builder.Property(e => e.TakenBy).HasMaxLength(TextRules.Name);
        builder.HasIndex(e => e.Paper).IsUnique();
        builder.Property(e => e.Postings).HasJsonConversion();
        builder.Ignore(e => e.CustomerMinor).Ignore(e => e.AmountMinor).Ignore(e => e.IsMoney);
    }
}

internal sealed class InvoiceConfiguration : IEntityTypeConfiguration<Invoice>
{
    public void Configure(EntityTypeBuilder<Invoice> builder)
    {
        builder.ToTable("Invoices");
        builder.HasKey(i => i.Id);
        builder.Property(i => i.Id).ValueGeneratedNever();
        builder.Property(i => i.Number).HasMaxLength(32);
        builder.HasIndex(i => i.Number).IsUnique();
        builder.HasOne<JobAccount>().WithMany().HasForeignKey(i => i.JobId);
        builder.HasOne<Customer>().WithMany().HasForeignKey(i => i.CustomerId);
        builder.HasOne<Invoice>().WithMany().HasForeignKey(i => i.Credits);
        builder.HasIndex(i => i.IssuedOn);
        builder.Property(i => i.CreditsNumber).HasMaxLength(32);
        builder.Property(i => i.Reason).HasMaxLength(TextRules.ShortText);
        builder.Property(i => i.Content).HasJsonConversion();
        builder.Property(i => i.Parties).HasJsonConversion();
        builder.Property(i => i.PartiesHash).HasMaxLength(64);
        builder.Property(i => i.ContentHash).HasMaxLength(64);
        builder.Ignore(i => i.IsCredit).Ignore(i => i.Sign);
    }
}
