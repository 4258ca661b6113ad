namespace ShopFloor.Web.Tests.Fixtures;

/// <summary>The checkout that the tests were built from.</summary>
internal static class Repository
{
    public static string Root { get; } = Find();

    private static string Find()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder!.FullName, "ShopFloor.sln")))
        {
            folder = folder.Parent;
        }

        return folder.FullName;
    }
}
