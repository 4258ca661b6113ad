using System.Runtime.InteropServices;

namespace ShopFloor.Solvers.Common;

/// <summary>
/// Runs a solver on a thread of its own that yields to everything else: on Linux the threads it starts inherit its low priority, so that pages stay
/// quick while a plan is worked out.
/// </summary>
internal static class QuietThread
{
    private const int OneThread = 0;
    private const int Nice = 10;

    /// <summary>Searches go one level down for each kind of piece.</summary>
    private const int DeepStack = 64 * 1024 * 1024;

    public static T Run<T>(Func<T> work)
    {
        T? result = default;
        Exception? fault = null;
        var thread = new Thread(Body, DeepStack) { IsBackground = true, Name = "solver" };
        thread.Start();
        thread.Join();
        if (fault is not null)
        {
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(fault);
        }

        return result!;

        void Body()
        {
            StepBack();
            try
            {
                result = work();
            }
            catch (Exception exception)
            {
                fault = exception;
            }
        }
    }

    private static void StepBack()
    {
        if (OperatingSystem.IsLinux())
        {
            // 0 means the calling thread; where it is not allowed the work is done all the same.
            _ = setpriority(OneThread, 0, Nice);
        }
    }

    [DllImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int setpriority(int which, int who, int priority);
}
