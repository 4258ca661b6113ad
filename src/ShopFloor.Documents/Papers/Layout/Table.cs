using PdfSharp.Drawing;

namespace ShopFloor.Documents.Papers.Layout;

/// <summary>A column; widths are shared by weight.</summary>
internal sealed record TableColumn(string Heading, double Weight, Align Align = Align.Left);

/// <summary>A cell of text, with a smaller note below, or with a drawing below the text.</summary>
/// <param name="Drawing">Draws into the place it is given, <paramref name="DrawingHeight"/> points high.</param>
internal sealed record TableCell(
    string Text,
    TextStyle? Style = null,
    string? Note = null,
    Action<Sheet, XRect>? Drawing = null,
    double DrawingHeight = 0
)
{
    public static implicit operator TableCell(string text) => new(text);
}

/// <summary>A row of cells; one cell alone is a band over the whole width, kept with the row after it.</summary>
internal sealed record TableRow(params TableCell[] Cells)
{
    public bool IsBand => Cells.Length == 1;
}

/// <summary>Rows with wrapped cells. A row stays on one page if it can, and the head is repeated on every page.</summary>
internal sealed class Table(params TableColumn[] columns)
{
    private const double Padding = 3;
    private static readonly XPen Hairline = new(XColor.FromArgb(0xB0, 0xB0, 0xB0), 0.4);
    private static readonly XBrush HeadFill = new XSolidBrush(XColor.FromArgb(0xE6, 0xE6, 0xE6));
    private static readonly XBrush BandFill = new XSolidBrush(XColor.FromArgb(0xF2, 0xF2, 0xF2));

    public void Write(Sheet sheet, IReadOnlyList<TableRow> rows)
    {
        var needsHead = columns.Any(c => c.Heading.Length > 0);
        var first = rows.Count > 0 ? Math.Min(Lay(sheet, rows[0]).Height, Sheet.Mm(60)) : 0;
        sheet.Ensure(first + (needsHead ? HeadHeight(sheet) : 0));
        if (needsHead)
        {
            Head(sheet);
        }

        for (var i = 0; i < rows.Count; i++)
        {
            var laid = Lay(sheet, rows[i]);
            var wanted = laid.Height;
            if (rows[i].IsBand && i + 1 < rows.Count)
            {
                wanted += Lay(sheet, rows[i + 1]).Height;
            }

            var page = sheet.Bottom - sheet.Top - HeadHeight(sheet);
            if (sheet.Y + Math.Min(wanted, page) > sheet.Bottom)
            {
                NextPage(sheet, needsHead);
            }

            Draw(sheet, laid, needsHead);
        }
    }

    private double HeadHeight(Sheet sheet) => Lay(sheet, HeadRow()).Height;

    private TableRow HeadRow() => new([.. columns.Select(c => new TableCell(c.Heading, TextStyle.SmallStrong))]);

    private void Head(Sheet sheet)
    {
        var laid = Lay(sheet, HeadRow());
        sheet.Graphics.DrawRectangle(HeadFill, sheet.Left, sheet.Y, sheet.Width, laid.Height);
        DrawCells(sheet, laid, 0, int.MaxValue);
        sheet.Y += laid.Height;
    }

    private void NextPage(Sheet sheet, bool needsHead)
    {
        sheet.NewPage();
        if (needsHead)
        {
            Head(sheet);
        }
    }

    /// <summary>Draws a row whole, or, where it is higher than a page, in pieces by lines.</summary>
    private void Draw(Sheet sheet, LaidRow row, bool needsHead)
    {
        var from = 0;
        while (true)
        {
            var free = sheet.Bottom - sheet.Y - (2 * Padding);
            var to = row.LastLineWithin(from, free);
            if (to <= from)
            {
                // Not even one line fits: the rest goes to the next page.
                NextPage(sheet, needsHead);
                continue;
            }

            var height = row.HeightOf(from, to) + (2 * Padding);
            if (row.IsBand)
            {
                sheet.Graphics.DrawRectangle(BandFill, sheet.Left, sheet.Y, sheet.Width, height);
            }

            DrawCells(sheet, row, from, to);
            sheet.Y += height;
            sheet.Graphics.DrawLine(Hairline, sheet.Left, sheet.Y, sheet.Right, sheet.Y);
            from = to;
            if (from >= row.LineCount)
            {
                return;
            }

            NextPage(sheet, needsHead);
        }
    }

    private static void DrawCells(Sheet sheet, LaidRow row, int from, int to)
    {
        foreach (var cell in row.Cells)
        {
            var y = sheet.Y + Padding;
            foreach (var line in cell.Lines.Skip(from).Take(to - from))
            {
                if (line.Drawing is { } drawing)
                {
                    drawing(sheet, new XRect(cell.X, y, cell.Width, line.Height));
                }
                else
                {
                    sheet.DrawLine(line.Text, line.Style, cell.X, y, cell.Width, cell.Align);
                }

                y += line.Height;
            }
        }
    }

    private LaidRow Lay(Sheet sheet, TableRow row)
    {
        var weights = row.IsBand ? [1.0] : columns.Select(c => c.Weight).ToArray();
        var sum = weights.Sum();
        var x = sheet.Left;
        var cells = new List<LaidCell>();
        for (var i = 0; i < row.Cells.Length; i++)
        {
            var width = sheet.Width * weights[i] / sum;
            var inner = width - (2 * Padding);
            var align = row.IsBand ? Align.Left : columns[i].Align;
            cells.Add(new LaidCell(x + Padding, inner, align, Lines(sheet, row.Cells[i], inner, row.IsBand)));
            x += width;
        }

        return new LaidRow(cells, row.IsBand);
    }

    private static List<LaidLine> Lines(Sheet sheet, TableCell cell, double width, bool isBand)
    {
        var style = cell.Style ?? (isBand ? TextStyle.Strong : TextStyle.Body);
        var lines = new List<LaidLine>();
        if (cell.Text.Length > 0)
        {
            Add(cell.Text, style);
        }

        if (cell.Drawing is not null)
        {
            lines.Add(new LaidLine("", style, cell.DrawingHeight, cell.Drawing));
        }

        if (!string.IsNullOrEmpty(cell.Note))
        {
            Add(cell.Note, TextStyle.Small);
        }

        return lines;

        void Add(string text, TextStyle s) =>
            lines.AddRange(
                TextFlow.Wrap(sheet.Graphics, text, s.Font, width).Select(t => new LaidLine(t, s, s.LineHeight, null))
            );
    }

    private sealed record LaidLine(string Text, TextStyle Style, double Height, Action<Sheet, XRect>? Drawing);

    private sealed record LaidCell(double X, double Width, Align Align, List<LaidLine> Lines);

    private sealed record LaidRow(List<LaidCell> Cells, bool IsBand)
    {
        public int LineCount => Cells.Count == 0 ? 0 : Math.Max(1, Cells.Max(c => c.Lines.Count));

        public double Height => HeightOf(0, LineCount) + (2 * Padding);

        public double HeightOf(int from, int to) =>
            Cells.Max(c => c.Lines.Skip(from).Take(to - from).Sum(line => line.Height));

        /// <summary>The line behind the last one that still fits.</summary>
        public int LastLineWithin(int from, double height)
        {
            var to = from;
            while (to < LineCount && HeightOf(from, to + 1) <= height + 0.001)
            {
                to++;
            }

            return to;
        }
    }
}
