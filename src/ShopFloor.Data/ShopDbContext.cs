using System.Reflection;
using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Conventions;
using ShopFloor.Data.Files;
using ShopFloor.Data.History;
using ShopFloor.Data.Idempotency;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;

namespace ShopFloor.Data;

/// <summary>The shop's data, the same model on SQLite and PostgreSQL. Entities are the Domain's own classes; each has one configuration class.</summary>
/// <remarks>Only Application classes save through it. A context lives for one command or one query.</remarks>
public sealed class ShopDbContext(DbContextOptions<ShopDbContext> options)
    : IdentityDbContext<User, ShopRole, Guid>(options),
        IDataProtectionKeyContext
{
    public DbSet<DataProtectionKey> DataProtectionKeys => Set<DataProtectionKey>();
    public DbSet<Shop> Shops => Set<Shop>();
    public DbSet<EventRow> Events => Set<EventRow>();
    public DbSet<ApiKey> ApiKeys => Set<ApiKey>();
    public DbSet<IdempotencyRecord> IdempotencyRecords => Set<IdempotencyRecord>();
    public DbSet<StoredFileRow> StoredFiles => Set<StoredFileRow>();

    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        configurationBuilder.Properties<Enum>().HaveConversion<string>().HaveMaxLength(32);
        configurationBuilder.Properties<decimal>().HavePrecision(18, 6);
        configurationBuilder.Properties<Currency>().HaveConversion<CurrencyConverter>().HaveMaxLength(3);
        configurationBuilder.Properties<Length>().HaveConversion<LengthConverter>();
        configurationBuilder.Properties<Angle>().HaveConversion<AngleConverter>();
        foreach (var id in typeof(IEntityId<>).Assembly.GetTypes().Where(IsEntityId))
        {
            configurationBuilder.Properties(id).HaveConversion(typeof(EntityIdConverter<>).MakeGenericType(id));
        }

        if (Database.IsSqlite())
        {
            configurationBuilder.Properties<DateTimeOffset>().HaveConversion<UtcTicksConverter>();
        }
        else
        {
            configurationBuilder.Properties<DateTimeOffset>().HaveConversion<ToUtcConverter>();
        }
    }

    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        builder.ApplyConfigurationsFromAssembly(Assembly.GetExecutingAssembly());
        foreach (var entity in builder.Model.GetEntityTypes())
        {
            if (typeof(IVersioned).IsAssignableFrom(entity.ClrType))
            {
                entity.FindProperty(nameof(IVersioned.Version))!.IsConcurrencyToken = true;
            }

            // Nothing is hard-deleted that a quote, job or paper refers to.
            foreach (
                var key in entity
                    .GetForeignKeys()
                    .Where(k => !k.IsOwnership && !IsIdentity(k.DeclaringEntityType.ClrType))
            )
            {
                key.DeleteBehavior = DeleteBehavior.Restrict;
            }
        }
    }

    public override int SaveChanges(bool acceptAllChangesOnSuccess)
    {
        RaiseVersions();
        return base.SaveChanges(acceptAllChangesOnSuccess);
    }

    public override Task<int> SaveChangesAsync(
        bool acceptAllChangesOnSuccess,
        CancellationToken cancellationToken = default
    )
    {
        RaiseVersions();
        return base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
    }

    /// <summary>Counts the aggregate as changed even where only its children were.</summary>
    public void Touch(IVersioned aggregate)
    {
        var entry = Entry((object)aggregate);
        if (entry.State == EntityState.Unchanged)
        {
            entry.Property(nameof(IVersioned.Version)).IsModified = true;
        }
    }

    private void RaiseVersions()
    {
        ChangeTracker.DetectChanges();
        foreach (
            var entry in ChangeTracker
                .Entries<IVersioned>()
                .Where(e => e.State is EntityState.Added or EntityState.Modified)
        )
        {
            var version = entry.Property(nameof(IVersioned.Version));
            version.CurrentValue = (long)version.CurrentValue! + 1;
        }

        // A sign-in that is under way saves all of a person: it must not put back what was changed meanwhile.
        foreach (var entry in ChangeTracker.Entries<User>().Where(e => e.State == EntityState.Modified))
        {
            var stamp = entry.Property(u => u.ConcurrencyStamp);
            if (!stamp.IsModified)
            {
                stamp.CurrentValue = Guid.CreateVersion7().ToString("N");
            }
        }
    }

    private static bool IsEntityId(Type type) =>
        type.IsValueType
        && type.GetInterfaces().Any(i => i.IsGenericType && i.GetGenericTypeDefinition() == typeof(IEntityId<>));

    private static bool IsIdentity(Type type) =>
        type.Namespace?.StartsWith("Microsoft.AspNetCore.Identity", StringComparison.Ordinal) == true;
}
