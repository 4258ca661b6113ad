using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using ShopFloor.Data;
using ShopFloor.Documents.Images;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Qr;

namespace ShopFloor.Application.Files;

public static class FileRegistration
{
    /// <summary>Where files are kept follows the database; pictures, QR codes and papers are the same everywhere.</summary>
    public static void AddFiles(this IServiceCollection services, ShopDatabase database)
    {
        if (database.Kind == DatabaseKind.Sqlite)
        {
            services.AddSingleton<IFileStore, FolderFileStore>();
        }
        else
        {
            services.AddSingleton<IFileStore, DatabaseFileStore>();
        }

        services.TryAddSingleton<IImageProcessor, SkiaImageProcessor>();
        services.TryAddSingleton<IQrCodes, QrCodes>();
        services.TryAddSingleton<IPapers, PdfPapers>();
    }
}
