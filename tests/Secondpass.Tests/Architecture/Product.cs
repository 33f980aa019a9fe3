using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;

namespace Secondpass.Tests.Architecture;

/// <summary>The product's own assemblies, as built.</summary>
internal static class Product
{
    /// <summary>The seven projects, in the order in which they may know each other.</summary>
    public static IReadOnlyList<Assembly> Assemblies { get; } =
    [
        typeof(Secondpass.Domain.Refusal).Assembly,
        typeof(Secondpass.Radiographs.Trace.CanalTracer).Assembly,
        typeof(Secondpass.Removal.Planner.RemovalPlanner).Assembly,
        typeof(Secondpass.Records.ClinicStore).Assembly,
        typeof(Secondpass.Exchange.Pictures.Picture).Assembly,
        typeof(Secondpass.Job.MeasureCanals).Assembly,
        typeof(Secondpass.App.ServeOptions).Assembly,
    ];

    /// <summary>The part of an assembly's name behind "Secondpass.".</summary>
    public static string ShortName(Assembly assembly) => assembly.GetName().Name!["Secondpass.".Length..];

    /// <summary>Full names of all types of other assemblies that an assembly's code names.</summary>
    public static IReadOnlySet<string> TypesUsedBy(Assembly assembly)
    {
        using var file = new PEReader(File.OpenRead(assembly.Location));
        var reader = file.GetMetadataReader();
        return reader.TypeReferences
            .Select(reader.GetTypeReference)
            .Select(type => $"{reader.GetString(type.Namespace)}.{reader.GetString(type.Name)}")
            .ToHashSet();
    }

    /// <summary>Members of other assemblies that an assembly's code names, as "Namespace.Type.Member".</summary>
    public static IReadOnlySet<string> MembersUsedBy(Assembly assembly)
    {
        using var file = new PEReader(File.OpenRead(assembly.Location));
        var reader = file.GetMetadataReader();
        return reader.MemberReferences
            .Select(reader.GetMemberReference)
            .Where(member => member.Parent.Kind == HandleKind.TypeReference)
            .Select(member => (Type: reader.GetTypeReference((TypeReferenceHandle)member.Parent), member.Name))
            .Select(member => $"{reader.GetString(member.Type.Namespace)}.{reader.GetString(member.Type.Name)}.{reader.GetString(member.Name)}")
            .ToHashSet();
    }
}
