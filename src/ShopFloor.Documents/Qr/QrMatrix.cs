using QRCoder;

namespace ShopFloor.Documents.Qr;

/// <summary>The dark and light modules of a QR code, quiet zone of four modules included.</summary>
public sealed class QrMatrix
{
    /// <summary>Longest text in characters: keeps the modules large enough for a shop's printer and a scratched phone.</summary>
    public const int MaxLength = 500;

    private readonly bool[,] dark;

    private QrMatrix(bool[,] dark) => this.dark = dark;

    /// <summary>Modules on a side.</summary>
    public int Size => dark.GetLength(0);

    public bool IsDark(int row, int column) => dark[row, column];

    /// <summary>Error correction level M: about 15 % of the code may be soiled.</summary>
    /// <exception cref="ArgumentException">Empty or longer than <see cref="MaxLength"/>.</exception>
    public static QrMatrix Of(string text)
    {
        using var code = Generate(text);
        var size = code.ModuleMatrix.Count;
        var dark = new bool[size, size];
        for (var row = 0; row < size; row++)
        {
            for (var column = 0; column < size; column++)
            {
                dark[row, column] = code.ModuleMatrix[row][column];
            }
        }

        return new QrMatrix(dark);
    }

    /// <summary>Runs of dark modules in a row, as (row, first column, length): what a drawing needs.</summary>
    public IEnumerable<(int Row, int Column, int Length)> Runs()
    {
        for (var row = 0; row < Size; row++)
        {
            for (var column = 0; column < Size; column++)
            {
                var start = column;
                while (column < Size && dark[row, column])
                {
                    column++;
                }

                if (column > start)
                {
                    yield return (row, start, column - start);
                }
            }
        }
    }

    internal static QRCodeData Generate(string text)
    {
        ArgumentException.ThrowIfNullOrEmpty(text);
        return text.Length <= MaxLength
            ? QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M)
            : throw new ArgumentException($"A QR code takes at most {MaxLength} characters.", nameof(text));
    }
}
