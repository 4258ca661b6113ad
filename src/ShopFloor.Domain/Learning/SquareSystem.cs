namespace ShopFloor.Domain.Learning;

/// <summary>Inverts a symmetric matrix that is positive definite, by Cholesky's way: A = L·Lᵀ.</summary>
internal static class SquareSystem
{
    /// <exception cref="ArgumentException">The matrix is not positive definite.</exception>
    public static double[,] Inverse(double[,] matrix)
    {
        var n = matrix.GetLength(0);
        var lower = Lower(matrix, n);
        var inverse = new double[n, n];
        var column = new double[n];
        for (var c = 0; c < n; c++)
        {
            for (var i = 0; i < n; i++)
            {
                var sum = i == c ? 1.0 : 0.0;
                for (var k = 0; k < i; k++)
                {
                    sum -= lower[i, k] * column[k];
                }

                column[i] = sum / lower[i, i];
            }

            for (var i = n - 1; i >= 0; i--)
            {
                var sum = column[i];
                for (var k = i + 1; k < n; k++)
                {
                    sum -= lower[k, i] * inverse[k, c];
                }

                inverse[i, c] = sum / lower[i, i];
            }
        }

        return inverse;
    }

    private static double[,] Lower(double[,] matrix, int n)
    {
        var lower = new double[n, n];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var sum = matrix[i, j];
                for (var k = 0; k < j; k++)
                {
                    sum -= lower[i, k] * lower[j, k];
                }

                if (i == j && sum <= 0)
                {
                    throw new ArgumentException("The matrix is not positive definite.", nameof(matrix));
                }

                lower[i, j] = i == j ? Math.Sqrt(sum) : sum / lower[j, j];
            }
        }

        return lower;
    }
}
