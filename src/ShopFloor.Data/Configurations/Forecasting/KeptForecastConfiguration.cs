using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Data.Configurations.Forecasting;

internal sealed class KeptForecastConfiguration : IEntityTypeConfiguration<KeptForecast>
{
    public void Configure(EntityTypeBuilder<KeptForecast> builder)
    {
        builder.ToTable("Forecasts");
        builder.HasKey(f => f.Id);
        builder.Property(f => f.Id).ValueGeneratedNever();
        builder.Property(f => f.Said).HasJsonConversion();
        builder.HasOne<Job>().WithMany().HasForeignKey(f => f.JobId);
        builder.HasIndex(f => new { f.JobId, f.On }).IsUnique();
        builder.HasIndex(f => f.MadeAt);
    }
}
