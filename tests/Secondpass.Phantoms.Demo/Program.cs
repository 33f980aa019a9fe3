using Secondpass.Phantoms.Demo;

if (args.Length != 1)
{
    Console.Error.WriteLine("Say where the invented films go, such as: dotnet run --project tests/Secondpass.Phantoms.Demo -- demo");
    return 2;
}

foreach (var folder in DemoFilms.WriteTo(args[0]))
{
    Console.WriteLine(folder);
}

return 0;
