using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Domain.SignIns;

namespace ShopFloor.Data.Configurations.SignIns;

internal sealed class SignInSessionConfiguration : IEntityTypeConfiguration<SignInSession>
{
    public void Configure(EntityTypeBuilder<SignInSession> builder)
    {
        builder.ToTable("SignInSessions");
        builder.HasKey(s => s.Id);
        builder.Property(s => s.Id).ValueGeneratedNever();
        builder.Property(s => s.Browser).HasMaxLength(SignInSession.LongestBrowser);
        builder.Property(s => s.Network).HasMaxLength(SignInSession.LongestNetwork);
        builder.HasIndex(s => new { s.Person, s.EndedAt });
        builder.HasIndex(s => s.Network);
    }
}

internal sealed class SecondFactorConfiguration : IEntityTypeConfiguration<SecondFactor>
{
    public void Configure(EntityTypeBuilder<SecondFactor> builder)
    {
        builder.ToTable("SecondFactors");
        builder.HasKey(f => f.Person);
        builder.Property(f => f.Person).ValueGeneratedNever();
        builder.Property(f => f.ProtectedSecret).HasMaxLength(1024);
    }
}

internal sealed class RecoveryCodeConfiguration : IEntityTypeConfiguration<RecoveryCode>
{
    public void Configure(EntityTypeBuilder<RecoveryCode> builder)
    {
        builder.ToTable("RecoveryCodes");
        builder.HasKey(c => c.Id);
        builder.Property(c => c.Id).ValueGeneratedNever();
        builder.Property(c => c.Hash).HasMaxLength(64);
        builder.HasIndex(c => new { c.Person, c.Hash }).IsUnique();
    }
}

internal sealed class PasswordLinkConfiguration : IEntityTypeConfiguration<PasswordLink>
{
    public void Configure(EntityTypeBuilder<PasswordLink> builder)
    {
        builder.ToTable("PasswordLinks");
        builder.HasKey(l => l.Id);
        builder.Property(l => l.Id).ValueGeneratedNever();
        builder.Property(l => l.TokenHash).HasMaxLength(64);
        builder.HasIndex(l => l.TokenHash).IsUnique();
        builder.HasIndex(l => l.Person);
    }
}
