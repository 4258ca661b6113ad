using ShopFloor.Web.Hosting;

try
{
    return args is ["admin", .. var command] ? await AdminCommands.RunAsync(command) : await Server.RunAsync(args);
}
catch (ConfigurationException exception)
{
    await Console.Error.WriteLineAsync(exception.Message);
    return 2;
}
