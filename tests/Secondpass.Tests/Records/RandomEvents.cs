using System.Reflection;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Chairside;
using Secondpass.Domain.Quantities;
using Secondpass.Records.Events;

namespace Secondpass.Tests.Records;

/// <summary>Makes events of any kind with arbitrary content, so that a new kind is in every law at once.</summary>
internal sealed class RandomEvents(int seed)
{
    private static readonly string[] Texts = ["MB1", "", "a “quoted” word", "Größe\nzweite Zeile", "{\"kind\":1}", "0000000000000000000000000000000000000000000000000000000000000001"];
    private static readonly Type[] Entries = [.. EventKinds.All.Select(kind => kind.Type).Where(typeof(ChairsideEntry).IsAssignableFrom)];

    private readonly Random random = new(seed);

    /// <summary>An event of a type.</summary>
    public object Of(Type type) => Make(type, null, 0)!;

    /// <summary>One of the events that can happen to a case after it was opened, entries from the chair aside.</summary>
    public T One<T>(Func<Type, bool> which)
    {
        var types = EventKinds.All.Select(kind => kind.Type).Where(type => typeof(T).IsAssignableFrom(type) && which(type)).ToArray();
        return (T)Of(types[random.Next(types.Length)]);
    }

    /// <summary>A number below a limit.</summary>
    public int Below(int limit) => random.Next(limit);

    private object? Make(Type type, NullabilityInfo? nullability, int depth)
    {
        var bare = Nullable.GetUnderlyingType(type);
        if ((bare is not null || nullability?.WriteState == NullabilityState.Nullable) && random.Next(3) == 0)
        {
            return null;
        }

        type = bare ?? type;
        if (type == typeof(ChairsideEntry))
        {
            // A correction of a correction of a correction … ends somewhere.
            type = depth > 3 ? typeof(MomentMarked) : Entries[random.Next(Entries.Length)];
        }

        return type switch
        {
            _ when type == typeof(string) => Texts[random.Next(Texts.Length)],
            _ when type == typeof(int) => random.Next(1, 5),
            _ when type == typeof(long) => random.NextInt64(1, 1L << 40),
            _ when type == typeof(double) => Number(),
            _ when type == typeof(bool) => random.Next(2) == 0,
            _ when type.IsEnum => Enum.GetValues(type).GetValue(random.Next(Enum.GetValues(type).Length)),
            _ when type == typeof(DateTimeOffset) => new DateTimeOffset(2026, 3, 4, 9, 30, 0, TimeSpan.Zero).AddTicks(random.NextInt64(1L << 50)),
            _ when type == typeof(DateTime) => new DateTime(2026, 3, 4, 9, 30, 0, DateTimeKind.Unspecified).AddSeconds(random.Next(1 << 20)),
            _ when type == typeof(DateOnly) => new DateOnly(2026, 1, 1).AddDays(random.Next(1000)),
            _ when type == typeof(Millimetres) => new Millimetres(Number()),
            _ when type == typeof(Degrees) => new Degrees(Number()),
            _ when type == typeof(SquareMillimetres) => new SquareMillimetres(Number()),
            _ when type == typeof(ToothNumber) => ToothNumber.Parse(FormattableString.Invariant($"{random.Next(1, 5)}{random.Next(1, 9)}")).Value,
            _ when type == typeof(Estimate) => Estimate.Within(Number(), Math.Abs(Number())),
            _ when type == typeof(Refusal) => new Refusal("a_code", "a reason", "a remedy", new Dictionary<string, double> { ["figure_mm"] = Number() }),
            _ when type.IsGenericType && type.GetGenericTypeDefinition() == typeof(IReadOnlyList<>) => List(type.GetGenericArguments()[0], nullability, depth),
            _ when type.IsGenericType && type.GetGenericTypeDefinition() == typeof(IReadOnlyDictionary<,>) => Dictionary(type.GetGenericArguments(), depth),
            _ => Construct(type, depth),
        };
    }

    private double Number() => random.Next(4) == 0 ? random.NextDouble() : Math.Round(random.NextDouble() * 30, 2, MidpointRounding.AwayFromZero);

    private Array List(Type item, NullabilityInfo? nullability, int depth)
    {
        var list = Array.CreateInstance(item, random.Next(3));
        for (var place = 0; place < list.Length; place++)
        {
            list.SetValue(Make(item, nullability?.GenericTypeArguments[0], depth + 1), place);
        }

        return list;
    }

    private object Dictionary(Type[] types, int depth)
    {
        var dictionary = (System.Collections.IDictionary)Activator.CreateInstance(typeof(Dictionary<,>).MakeGenericType(types))!;
        for (var count = random.Next(3); count > 0; count--)
        {
            dictionary[Make(types[0], null, depth + 1)!] = Make(types[1], null, depth + 1);
        }

        return dictionary;
    }

    private object Construct(Type type, int depth)
    {
        // A record's own constructor, not the one that copies.
        var constructor = type.GetConstructors().Where(one => one.GetParameters().All(parameter => parameter.ParameterType != type)).MaxBy(one => one.GetParameters().Length)
            ?? throw new InvalidOperationException($"{type} can't be made.");
        var context = new NullabilityInfoContext();
        var parameters = constructor.GetParameters();
        var made = constructor.Invoke([.. parameters.Select(parameter => Make(parameter.ParameterType, context.Create(parameter), depth + 1))]);

        // Members that came later have a default instead of a place in the constructor.
        foreach (var property in type.GetProperties().Where(one => one.CanWrite && !parameters.Any(parameter => parameter.Name == one.Name)))
        {
            property.SetValue(made, Make(property.PropertyType, context.Create(property), depth + 1));
        }

        return made;
    }
}
