using System.Data.Common;
using System.Net.Http.Headers;
using Microsoft.Data.Sqlite;
using Npgsql;
using ShopFloor.Data;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Messages;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Drills;

/// <summary>The real program killed with SIGKILL between the event and the sending, and again between the sending and the note that it was sent.</summary>
public sealed class MailCrashTests
{
    [Theory]
    [InlineData("sqlite")]
    [InlineData("postgres")]
    public async Task No_message_is_lost_to_kill_9_and_its_repeat_is_the_same_message(string kind)
    {
        var postgres = kind == "postgres" ? await PostgresServer.NewDatabaseAsync() : null;
        await using var server = new RealServer(postgres);
        await server.StartAsync();
        using var api = await RealShop.SetUpAsync(server);
        var story = await MailStory.QuotedAsync(api, api);
        await server.KillAsync();

        await server.StartAsync();
        await using var mail = new MailCatcher();
        mail.Held = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        await api.PutAsync("/api/v1/shop/mail", mail.Settings());
        // The mail server has it, but has not said so: the program waits for its answer when it is killed.
        var first = await mail.Next.Task.WaitAsync(TestContext.Current.CancellationToken);
        await server.KillAsync();
        Assert.Equal(1, await LeasesEndAsync(server, postgres));
        mail.Held.SetResult();
        mail.Held = null;
        mail.Next = new(TaskCreationOptions.RunContinuationsAsynchronously);

        await server.StartAsync();
        var again = await mail.Next.Task.WaitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(story.Address, Assert.Single(again.To.Mailboxes).Address);
        Assert.Equal(first.MessageId, again.MessageId);
        Assert.Equal(first.Date, again.Date);
        Assert.Equal(first.TextBody, again.TextBody);
        Assert.Equal(first.HtmlBody, again.HtmlBody);
        while ((await story.MessageAsync("quoteSent")).Text("state") != "sent")
        {
            await Task.Yield();
        }

        Assert.Equal(2, mail.Caught.Count);
        Assert.Empty(await RealShop.VerifyAsync(server));
    }

    /// <summary>In place of waiting for the lease of the killed process to run out.</summary>
    private static async Task<int> LeasesEndAsync(RealServer server, string? postgres)
    {
        await using DbConnection connection = postgres is null
            ? new SqliteConnection(ShopDatabase.SqliteIn(server.Folder).ConnectionString)
            : new NpgsqlConnection(postgres);
        await connection.OpenAsync();
        await using var command = connection.CreateCommand();
        command.CommandText = "UPDATE \"Messages\" SET \"LeaseUntil\" = NULL WHERE \"LeaseUntil\" IS NOT NULL";
        return await command.ExecuteNonQueryAsync();
    }
}
