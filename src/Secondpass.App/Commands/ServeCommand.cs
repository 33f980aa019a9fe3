using System.Globalization;
using Secondpass.Domain;
using Secondpass.Job.Documents;

namespace Secondpass.App.Commands;

/// <summary>Serves the workbench to the browsers of this computer.</summary>
internal static class ServeCommand
{
    private static readonly VerbOption Demo = new("--demo", null, "Offers the invented examples, in a data folder apart from yours; with --store in that database, unless it holds anything else.");
    private static readonly VerbOption Port = new("--port", "N", "Listens on this port, 1 to 65535; 0 takes any free one. Without it: 5180, or the next free one.");

    /// <summary>The verb.</summary>
    public static Verb Verb { get; } = new(
        "serve",
        "serves the workbench on this computer only and prints its address",
        "Starts the workbench, prints the address to open in a browser, and runs until it is stopped with Ctrl+C. It listens on this computer only and never asks for anything.",
        [],
        [Demo, Port, StoreOptions.Data, StoreOptions.Store],
        Document: null,
        [],
        Run);

    private static ExitCode Run(VerbCall call)
    {
        var port = (int?)null;
        if (call.Value(Port) is { } text)
        {
            if (!int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) || number > 65535)
            {
                return call.Console.WrongUse("serve", new Refusal(
                    "wrong_port",
                    $"{Quoted.Text(text)} is not a port.",
                    "Give a whole number from 0 to 65535, such as --port 5180."));
            }

            port = number;
        }

        // The clinic's own store, which the environment names, is no place for invented cases: only an address typed beside --demo is meant for them.
        var address = call.Has(Demo) ? call.Value(StoreOptions.Store) : StoreOptions.AddressOf(call);
        return (ExitCode)Server.Run(new ServeOptions(port, call.Value(StoreOptions.Data), call.Has(Demo), address));
    }
}
