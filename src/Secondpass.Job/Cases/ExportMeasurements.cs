using System.Globalization;
using System.Text;
using Secondpass.Domain;
using Secondpass.Domain.Anatomy;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Films;
using Secondpass.Exchange.Csv;
using Secondpass.Exchange.Wording;
using Secondpass.Job.Documents;
using Secondpass.Job.Keeping;
using Secondpass.Radiographs.Draw;
using Secondpass.Records;

namespace Secondpass.Job.Cases;

/// <summary>Everything measured on the films of a case as one document, and the same as a table.</summary>
/// <param name="store">Where it is kept.</param>
/// <param name="shelf">The films.</param>
public sealed class ExportMeasurements(ClinicStore store, FilmShelf shelf)
{
    private static readonly (string Name, string Unit, Func<MeasuredCanalDocument, (double? Value, double[]? Interval)> Of)[] CanalColumns =
    [
        ("filled length", "mm", canal => (canal.FilledLengthMm, canal.Intervals.GetValueOrDefault("filled_length_mm"))),
        ("filling end short of canal end", "mm", canal => (canal.FillEndMm, canal.Intervals.GetValueOrDefault("fill_end_mm"))),
        ("angle after Schneider", "degrees", canal => (canal.SchneiderDeg, canal.Intervals.GetValueOrDefault("schneider_deg"))),
        ("angle after Pruett", "degrees", canal => (canal.PruettDeg, canal.Intervals.GetValueOrDefault("pruett_deg"))),
        ("radius after Pruett", "mm", canal => (canal.PruettRadiusMm, canal.Intervals.GetValueOrDefault("pruett_radius_mm"))),
        ("filling off centre", "mm", canal => (canal.OffCentreMm, canal.Intervals.GetValueOrDefault("off_centre_mm"))),
        ("longest void", "mm", canal => (canal.LargestVoidMm, canal.Intervals.GetValueOrDefault("largest_void_mm"))),
        ("filling size", "mm", canal => (canal.FillingSizeMm, canal.Intervals.GetValueOrDefault("filling_size_mm"))),
        ("filling taper", "mm per mm", canal => (canal.FillingTaper, canal.Intervals.GetValueOrDefault("filling_taper"))),
    ];

    private static readonly (string Name, Func<MeasuredCanalDocument, CsvCell> Of)[] MoreOfCanal =
    [
        ("filled (percent of length)", canal => (double?)canal.FilledPercent),
        ("off centre is a sign", canal => Words(canal.OffCentreIsSign)),
        ("voids", canal => (double?)canal.Voids.Count),
        ("voids (percent of filled length)", canal => (double?)canal.VoidPercent),
        .. LeastAndGreatest("unfilled canal width", "mm", canal => canal.CanalWidth),
        .. LeastAndGreatest("filling density", "percent of its median", canal => canal.FillingDensity),
        .. Least("thinnest wall left", "mm", canal => canal.WallLeft),
        .. Least("thinnest wall right", "mm", canal => canal.WallRight),
        ("nearest size (ISO 3630-1)", canal => (double?)canal.NearestSize),
        .. FillingQuality.Names.Select(name => (name, new Func<MeasuredCanalDocument, CsvCell>(canal => canal.Criteria.FirstOrDefault(one => one.Name == name)?.Meets switch
        {
            null => (string?)null,
            "yes" => "met",
            "no" => "not met",
            _ => "not told",
        }))),
    ];

    private static readonly DrawnQuantity[] Quantities = Enum.GetValues<DrawnQuantity>();

    /// <summary>Everything measured, as one document.</summary>
    /// <param name="id">The case.</param>
    /// <returns>The document; or a refusal: no such case, its record is damaged.</returns>
    public Answer<MeasurementsDocument> Document(CaseId id)
    {
        if (!store.Cases.Read(id).TryGet(out var it, out var refusal) || !store.Cases.History(id).TryGet(out var history, out refusal))
        {
            return refusal;
        }

        var kept = new Dictionary<int, string>();
        foreach (var line in history)
        {
            var measurement = (line.Event as MeasurementDrawn)?.Measurement ?? (line.Event as MeasurementChanged)?.Measurement;
            if (measurement is not null)
            {
                kept[measurement.Number] = line.At.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
            }
        }

        return new MeasurementsDocument(
            1,
            it.Tooth.ToString(),
            [.. it.Films.Select(film => Film(it, film, kept)).Where(film => film.Canals.Count > 0 || film.CanalsWhyNone is not null || film.Drawn.Count > 0 || film.Scale?.KnownLength is not null)],
            [.. LesionChange.Of(it).Select(change => LesionChangeDocument.From(change, HasOtherScale(it, change.Before) || HasOtherScale(it, change.After)))],
            [.. DrawnWords.Cautions, DrawnWords.ChangeCaution]);
    }

    /// <summary>Everything measured on the films of a case of a store that nothing else here has open.</summary>
    /// <param name="place">Where the store is.</param>
    /// <param name="id">The case.</param>
    /// <param name="isJson">Whether as JSON; else as a table.</param>
    /// <param name="time">The clock.</param>
    /// <returns>JSON or CSV; or a refusal as for <see cref="Document"/>, and of a store that isn't there or can't be reached.</returns>
    public static Answer<byte[]> From(StorePlace place, CaseId id, bool isJson, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(place);
        if (!place.OpenExisting(time).TryGet(out var store, out var refusal))
        {
            return refusal;
        }

        using (store)
        {
            var export = new ExportMeasurements(store, new FilmShelf(store));
            return isJson ? export.Json(id) : export.Csv(id);
        }
    }

    /// <summary>Everything measured, as JSON.</summary>
    /// <inheritdoc cref="Document" path="/param"/>
    /// <returns>UTF-8; or a refusal as for <see cref="Document"/>.</returns>
    public Answer<byte[]> Json(CaseId id) => Document(id).TryGet(out var document, out var refusal) ? DocumentJson.Write(document) : refusal;

    /// <summary>Everything measured, as a table: one row for each canal and each thing drawn.</summary>
    /// <inheritdoc cref="Document" path="/param"/>
    /// <returns>CSV; or a refusal as for <see cref="Document"/>.</returns>
    public Answer<byte[]> Csv(CaseId id) => Document(id).TryGet(out var document, out var refusal) ? Table(document) : refusal;

    /// <summary>A length as it would be by each instrument of known length that runs the same way on the same film.</summary>
    /// <param name="it">The case.</param>
    /// <param name="length">One of its measurements.</param>
    /// <returns>The corrected lengths with the instruments' names; empty where there are none, and for what is no length.</returns>
    public static IReadOnlyList<(string By, CorrectedLength Length)> Corrected(DentalCase it, DrawnMeasurement length)
    {
        ArgumentNullException.ThrowIfNull(it);
        ArgumentNullException.ThrowIfNull(length);
        return length.Shape.Kind != DrawnKind.Length
            ? []
            : [.. it.Drawn.Where(one => one.Shape.Kind == DrawnKind.KnownLength && one.FilmSha256 == length.FilmSha256)
                .Select(known => (known.Name, Length: Foreshortened.Correct(length, known).TryGet(out var corrected, out _) ? corrected : null))
                .Where(one => one.Length is not null)
                .Select(one => (one.Name, one.Length!))];
    }

    private FilmMeasurementsDocument Film(DentalCase it, CaseFilm film, Dictionary<int, string> kept)
    {
        var (canals, whyNone, scale) = Canals(it, film.Sha256);
        return new FilmMeasurementsDocument(
            film.Sha256,
            EnumWords.Of(film.Moment),
            film.Taken is { } at ? at.ToString(at.TimeOfDay == TimeSpan.Zero ? "yyyy-MM-dd" : "yyyy-MM-dd'T'HH:mm:ss", CultureInfo.InvariantCulture) : null,
            film.DayEntered is not null,
            EnumWords.Of(film.Shift),
            FilmScaleDocument.Of(scale, Means(it, film.Sha256, scale)),
            canals,
            whyNone,
            [.. it.Drawn.Where(one => one.FilmSha256 == film.Sha256).Select(one => Drawn(it, one, kept.GetValueOrDefault(one.Number)))]);
    }

    // What the pages say of the scale that a film has by itself; a size that was entered means what who entered it says.
    private IReadOnlyList<string> Means(DentalCase it, string film, Calibration? scale) =>
        scale is { Source: not CalibrationSource.Entered } && new CalibrateFilm(store, shelf).ScaleOf(it, film).TryGet(out var chosen, out _) ? chosen.Notices : [];

    private (IReadOnlyList<MeasuredCanalDocument> Canals, string? WhyNone, Calibration? Scale) Canals(DentalCase it, string film)
    {
        if (it.Measured.FirstOrDefault(marks => marks.FilmSha256 == film) is not { } marks)
        {
            return ([], null, new CalibrateFilm(store, shelf).ScaleOf(it, film).TryGet(out var chosen, out _) ? chosen.Scale : null);
        }

        return shelf.Find(film).TryGet(out var radiograph, out var refusal)
            && CaseReader.Read(Encoding.UTF8.GetBytes(marks.CaseDocument)).TryGet(out var marked, out refusal)
            && MeasureCanals.Measure(radiograph, marked.WithScaleOf(it, film)).TryGet(out var measured, out refusal)
                ? (measured.Document.Canals, null, measured.Scale)
                : ([], refusal.Reason, null);
    }

    private bool HasOtherScale(DentalCase it, DrawnMeasurement one) => new CalibrateFilm(store, shelf).HasOtherScale(it, one);

    private DrawnDocument Drawn(DentalCase it, DrawnMeasurement one, string? kept)
    {
        var drawing = DrawingDocument.Of(one);
        return new DrawnDocument(
            one.Number,
            one.Name,
            drawing.Kind,
            drawing.PointsPx,
            drawing.TrueLengthMm,
            one.Scale?.MillimetresPerPixel,
            one.Scale is { } scale ? EnumWords.Of(scale.Source) : null,
            HasOtherScale(it, one),
            [.. one.Figures.Select(Figure)],
            [.. Corrected(it, one).Select(corrected => CorrectedLengthDocument.From(corrected.Length, corrected.By))],
            kept);
    }

    private static FigureDocument Figure(DrawnFigure figure)
    {
        Func<double, double> round = figure.Quantity switch
        {
            DrawnQuantity.Area => Rounded.SquareMillimetres,
            DrawnQuantity.Angle or DrawnQuantity.AngleToFilm => Rounded.Degrees,
            DrawnQuantity.Foreshortening => Rounded.Share,
            _ => Rounded.Millimetres,
        };
        return new FigureDocument(
            EnumWords.Of(figure.Quantity),
            Unit(figure.Quantity),
            round(figure.Value.Value),
            Rounded.Ends(figure.Value.Interval, round),
            round(figure.FromClicks),
            round(figure.FromScale));
    }

    private static byte[] Table(MeasurementsDocument document)
    {
        string[] header =
        [
            "tooth", "film (SHA-256)", "taken", "taken on", "taken on, from", "tube", "number", "name", "kind", "true length (mm)", "pixel size (mm)", "scale from", "kept (UTC)", "scale replaced since",
            .. Quantities.SelectMany(quantity => Columns(DrawnWords.Of(quantity), Unit(quantity))),
            .. CanalColumns.SelectMany(column => Columns(column.Name, column.Unit)),
            .. MoreOfCanal.Select(column => column.Name), "corrected by", .. Columns("length corrected for foreshortening", "mm"), "what the film’s scale means",
        ];
        return CsvTable.Write(header, document.Films.SelectMany(film => film.Canals.Select(canal => Row(document, film, canal)).Concat(film.Drawn.Select(drawn => Row(document, film, drawn)))));
    }

    private static string[] Columns(string name, string unit) => [$"{name} ({unit})", $"{name}, low ({unit})", $"{name}, high ({unit})"];

    private static IReadOnlyList<CsvCell> Row(MeasurementsDocument document, FilmMeasurementsDocument film, MeasuredCanalDocument canal) =>
    [
        document.Tooth, film.FilmSha256, film.Taken, film.TakenOn, DayFrom(film), film.Tube, (string?)null, canal.Name, "canal", (string?)null, film.Scale?.PixelSpacingMm, film.Scale?.From, (string?)null, (string?)null,
        .. Quantities.SelectMany(quantity => quantity == DrawnQuantity.Length ? Cells(canal.LengthMm, canal.Intervals.GetValueOrDefault("length_mm")) : Cells(null, null)),
        .. CanalColumns.SelectMany(column => column.Of(canal) is var (value, interval) ? Cells(value, interval) : []),
        .. MoreOfCanal.Select(column => column.Of(canal)), (string?)null, .. Cells(null, null), Means(film),
    ];

    private static IReadOnlyList<CsvCell> Row(MeasurementsDocument document, FilmMeasurementsDocument film, DrawnDocument drawn) =>
    [
        document.Tooth, film.FilmSha256, film.Taken, film.TakenOn, DayFrom(film), film.Tube, (double?)drawn.Number, drawn.Name, drawn.Kind, drawn.TrueLengthMm, drawn.PixelSpacingMm, drawn.ScaleFrom, drawn.KeptUtc, drawn.ScaleReplaced ? "yes" : "no",
        .. Quantities.Select(quantity => drawn.Figures.FirstOrDefault(figure => figure.Quantity == EnumWords.Of(quantity))).SelectMany(figure => Cells(figure?.Value, figure?.Interval)),
        .. CanalColumns.SelectMany(_ => Cells(null, null)),
        .. MoreOfCanal.Select(_ => (CsvCell)(string?)null),
        drawn.Corrected.Count == 0 ? (string?)null : string.Join("; ", drawn.Corrected.Select(one => one.By)),
        All(drawn, one => one.LengthMm), All(drawn, one => one.IntervalMm[0]), All(drawn, one => one.IntervalMm[1]),
        drawn.ScaleReplaced ? (string?)null : Means(film),
    ];

    // Several corrections stand in one cell, in the order of those that they come from.
    private static CsvCell All(DrawnDocument drawn, Func<CorrectedLengthDocument, double> value) => drawn.Corrected switch
    {
        [] => (double?)null,
        [var only] => (double?)value(only),
        _ => string.Join("; ", drawn.Corrected.Select(one => value(one).ToString(CultureInfo.InvariantCulture))),
    };

    private static string? Means(FilmMeasurementsDocument film) => film.Scale is { Means: { Count: > 0 } means } ? string.Join(" ", means) : null;

    private static string? Words(bool? answer) => answer is { } known ? known ? "yes" : "no" : null;

    private static IEnumerable<(string, Func<MeasuredCanalDocument, CsvCell>)> LeastAndGreatest(string name, string unit, Func<MeasuredCanalDocument, IReadOnlyList<double[]>?> rows) =>
    [
        .. Least($"{name}, least", unit, rows),
        ($"{name}, greatest ({unit})", canal => rows(canal)?.MaxBy(row => row[1])?[1]),
        ($"{name}, greatest, at (mm from the canal's end)", canal => rows(canal)?.MaxBy(row => row[1])?[0]),
    ];

    // Rows begin with the place and the value.
    private static IEnumerable<(string, Func<MeasuredCanalDocument, CsvCell>)> Least(string name, string unit, Func<MeasuredCanalDocument, IReadOnlyList<double[]>?> rows) =>
    [
        ($"{name} ({unit})", canal => rows(canal)?.MinBy(row => row[1])?[1]),
        ($"{name}, at (mm from the canal's end)", canal => rows(canal)?.MinBy(row => row[1])?[0]),
    ];

    private static string? DayFrom(FilmMeasurementsDocument film) => film.TakenOn is null ? null : film.TakenOnEntered ? "entered" : "file";

    private static CsvCell[] Cells(double? value, double[]? interval) => [value, interval?[0], interval?[1]];

    private static string Unit(DrawnQuantity quantity) => DrawnWords.Unit(quantity) switch
    {
        "°" => "degrees",
        "mm²" => "mm2",
        "" => "1",
        var unit => unit,
    };
}
