using System.Reflection;
using Secondpass.Domain.Quantities;

namespace Secondpass.Tests.Architecture;

/// <summary>A bare number at a public boundary of what computes says its unit in its name, or its type does.</summary>
public sealed class UnitNameTests
{
    private static readonly Type[] Numbers =
    [
        typeof(double), typeof(float), typeof(decimal), typeof(int), typeof(long), typeof(uint), typeof(ulong), typeof(short), typeof(ushort), typeof(byte),
        typeof(Estimate), typeof(Interval),
    ];

    private static readonly string[] UnitWords =
    [
        "Pixels", "Pixel", "Millimetres", "Degrees", "Minutes", "Millilitres", "Rpm", "NewtonCentimetres", "Percent", "Share", "GreyLevels", "Bytes", "Seconds", "Count", "Columns", "Rows", "Factor",

        // Counts and numbers of the trade that say themselves what they are.
        "Visit", "EntryNumber", "Version", "Year", "PeriapicalIndex", "Uses", "Attempts", "MinorUnits", "TipSize", "Taper",
    ];

    // Names whose unit is said elsewhere, by the reason.
    private static readonly HashSet<string> Allowed =
    [
        // The type is the unit.
        "Degrees.Value",
        "Millimetres.Value",
        "SquareMillimetres.Value",

        // The unit is that of the member that holds the estimate or interval.
        "Estimate.Value",
        "Estimate.Interval",
        "Estimate.Within(value)",
        "Estimate.Within(halfWidth)",
        "Interval.Low",
        "Interval.High",
        "Interval.Width",
        "Interval.Contains(value)",

        // A coordinate of a film is in pixels, always.
        "PixelPoint.X",
        "PixelPoint.Y",
        "Displacement.Dx",
        "Displacement.Dy",

        // A picture's size is in columns and rows, always.
        "Radiograph.Width",
        "Radiograph.Height",
        "Radiograph..ctor(width)",
        "Radiograph..ctor(height)",
        "ComparisonPicture.Width",
        "ComparisonPicture.Height",

        // Grey values and classes of pixels have no unit.
        "Radiograph.GreatestValue",
        "Radiograph..ctor(greatestValue)",
        "GreyWindow.Black",
        "GreyWindow.White",
        "ComparisonPicture.AlignedAfter",
        "ComparisonPicture.Residue",

        // In mm, beside the same in pixels.
        "BranchMeasures.Length",
        "BranchMeasures.FilledLength",
        "BranchMeasures.FillingEndToCanalEnd",

        // The unit stands beside it.
        "Sourced`1.Range",
        "ISourced.Range",
        "DrawnFigure.Value",
        "DrawnFigure.FromClicks",
        "DrawnFigure.FromScale",

        // A name, not an amount.
        "NumberedEntry.Number",
        "DrawnMeasurement.Number",
        "MeasurementRemoved.Number",
        "MeasurementPutBack.Number",
        "ToothNumber.Number",
        "FillingCone.NearestSize",
    ];

    [Fact]
    public void Every_public_number_says_its_unit_in_its_name_or_type() =>
        Assert.Equal([], WithoutUnit().Except(Allowed));

    [Fact]
    public void Every_exception_is_one_that_is_needed() => Assert.Equal([], Allowed.Except(WithoutUnit()));

    private static IEnumerable<string> WithoutUnit() => Named().Where(place => !SaysUnit(place.Name)).Select(place => place.Place).Distinct();

    private static bool SaysUnit(string name) => UnitWords.Any(unit => name.Contains(unit, StringComparison.OrdinalIgnoreCase));

    private static IEnumerable<(string Place, string Name)> Named()
    {
        const BindingFlags Public = BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly;
        foreach (var type in Product.Assemblies.Take(3).SelectMany(assembly => assembly.GetExportedTypes()).Where(type => !type.IsEnum))
        {
            foreach (var property in type.GetProperties(Public).Where(property => IsNumber(property.PropertyType)))
            {
                yield return ($"{type.Name}.{property.Name}", property.Name);
            }

            var methods = type.GetMethods(Public).Where(method => !method.IsSpecialName && !IsWrittenByCompiler(method)).Cast<MethodBase>();
            foreach (var method in methods.Concat(type.GetConstructors(Public).Where(constructor => !IsRecord(type))))
            {
                foreach (var parameter in method.GetParameters().Where(parameter => IsNumber(parameter.ParameterType)))
                {
                    yield return ($"{type.Name}.{method.Name}({parameter.Name})", parameter.Name!);
                }
            }
        }
    }

    private static bool IsNumber(Type type)
    {
        var bare = Nullable.GetUnderlyingType(type) ?? type;
        return Numbers.Contains(bare.IsArray ? bare.GetElementType() : bare);
    }

    // A record's constructor parameters are its properties.
    private static bool IsRecord(Type type) => type.GetMethod("<Clone>$") is not null || type.GetMethod("PrintMembers", BindingFlags.NonPublic | BindingFlags.Instance) is not null;

    private static bool IsWrittenByCompiler(MethodInfo method) =>
        method.GetCustomAttribute<System.Runtime.CompilerServices.CompilerGeneratedAttribute>() is not null || method.Name is "GetHashCode" or "CompareTo" or "Deconstruct";
}
