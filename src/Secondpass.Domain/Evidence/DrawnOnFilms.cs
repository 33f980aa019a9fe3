namespace Secondpass.Domain.Evidence;

/// <summary>The constants that measurements drawn by hand on a film rest on.</summary>
public static class DrawnOnFilms
{
    /// <summary>Standard deviation of where a click puts a point, in each direction.</summary>
    public static Sourced<double> ClickDeviationPixels { get; } = new(
        "Standard deviation of where a click puts a point on a film",
        1.8,
        "pixels",
        null,
        "An assumption of this product, not a study of people: about 0.05 mm on a common sensor. It is how steadily a hand meets what it means to meet, not where somebody sees an edge",
        Standing.OwnChoice);

    /// <summary>Standard deviation of what the scale of a film adds to a length, as a share of it.</summary>
    public static Sourced<double> ScaleDeviationShare { get; } = new(
        "Standard deviation of a film's scale, as a share of a length",
        0.006,
        "share of the length",
        null,
        "An assumption of this product: the sensor's own scale and foreshortening of a few degrees",
        Standing.OwnChoice);

    /// <summary>How much larger than it is a tooth may be seen by the sensor's scale.</summary>
    public static Sourced<double> LargestMagnification { get; } = new(
        "Largest magnification of a tooth on an intra-oral film that is reckoned with",
        1.11,
        "1",
        null,
        "Geometry of an assumed arrangement: a source 200 mm from the sensor and a tooth 20 mm in front of it give 200 / 180",
        Standing.OwnChoice);

    /// <summary>How far a stop on an instrument may stand from the length that it was set to.</summary>
    public static Sourced<double> StopReading { get; } = new(
        "Length to which a stop on an instrument is set and read, either way",
        0.5,
        "mm",
        null,
        "Rulers and gauges are commonly read to half a millimetre",
        Standing.CommonPractice);

    /// <summary>The shortest object of known length that a scale is taken from.</summary>
    public static Sourced<double> LeastKnownLength { get; } = new(
        "Shortest object of known length that a film's scale is taken from",
        2,
        "mm",
        null,
        "The diameter of a small steel ball. Typed to whole millimetres, a shorter one leaves a quarter of every length open",
        Standing.OwnChoice);

    /// <summary>The longest object of known length that a scale is taken from.</summary>
    public static Sourced<double> GreatestKnownLength { get; } = new(
        "Longest object of known length that a film's scale is taken from",
        100,
        "mm",
        null,
        "The largest intra-oral film, 57 × 76 mm, has a diagonal of 95 mm",
        Standing.OwnChoice);

    /// <summary>How far apart the ends of an object of known length have to be marked.</summary>
    public static Sourced<double> LeastKnownDistance { get; } = new(
        "Least distance of the two marks that a film's scale is taken from",
        50,
        "pixels",
        null,
        "Two clicks leave 10 % of every length open there (1.96 × √2 × 1.8 / 50)",
        Standing.OwnChoice);

    /// <summary>The largest angle to the film's plane that a known length may imply.</summary>
    public static Sourced<double> LargestForeshortening { get; } = new(
        "Largest angle to the film that a known length may imply",
        40,
        "degrees",
        null,
        "Nearly a quarter of the length is lost there (1 − cos 40° = 0.23). Beyond it, the wrong length or the wrong ends are likelier than such an angle",
        Standing.OwnChoice);

    /// <summary>How far a length may turn from an instrument and still be corrected by it.</summary>
    public static Sourced<double> SameDirection { get; } = new(
        "Largest angle on the film between a length and the instrument that it is corrected by",
        15,
        "degrees",
        null,
        "What lies across a tooth is not foreshortened as what lies along it; within 15° the two share 97 % of their length",
        Standing.OwnChoice);

    /// <summary>The most points of one outline.</summary>
    public static Sourced<int> GreatestPointCount { get; } = new(
        "Greatest number of points of an outline",
        100,
        "points",
        null,
        "Many more than anybody clicks; keeps a false request from taking the time",
        Standing.OwnChoice);
}
