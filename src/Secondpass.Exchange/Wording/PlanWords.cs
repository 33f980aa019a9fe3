using System.Globalization;
using Secondpass.Domain.Plans;

namespace Secondpass.Exchange.Wording;

/// <summary>Steps of a plan in words, alike on screen, at a terminal and on paper.</summary>
public static class PlanWords
{
    /// <summary>Minutes and attempts that were set beforehand, and what then; empty for none.</summary>
    /// <param name="step">The step.</param>
    public static string Limits(RemovalStep step)
    {
        ArgumentNullException.ThrowIfNull(step);
        var said = new List<string>();
        if (step.Minutes is { } minutes)
        {
            said.Add(string.Create(CultureInfo.InvariantCulture, $"{minutes.Value:0.#} min ({minutes.Interval.Low:0}–{minutes.Interval.High:0})."));
        }

        if (step.AttemptsAtMost is { } attempts && step.MinutesAtMost is { } most)
        {
            said.Add(string.Create(CultureInfo.InvariantCulture, $"At most {attempts} attempts and {most:0} min."));
        }
        else if (step.MinutesAtMost is { } only)
        {
            said.Add(string.Create(CultureInfo.InvariantCulture, $"At most {only:0} min."));
        }

        if (step.ThenWhat is { } then)
        {
            said.Add("Then: " + then);
        }

        return string.Join(' ', said);
    }

    /// <summary>Numbers of steps in a row, such as "3, 5–7".</summary>
    /// <param name="numbers">At least one, in rising order.</param>
    public static string Numbers(IReadOnlyList<int> numbers)
    {
        ArgumentNullException.ThrowIfNull(numbers);
        var said = new List<string>();
        for (var i = 0; i < numbers.Count; i++)
        {
            var first = i;
            while (i + 1 < numbers.Count && numbers[i + 1] == numbers[i] + 1)
            {
                i++;
            }

            said.Add((i - first) switch
            {
                0 => string.Create(CultureInfo.InvariantCulture, $"{numbers[i]}"),
                1 => string.Create(CultureInfo.InvariantCulture, $"{numbers[first]}, {numbers[i]}"),
                _ => string.Create(CultureInfo.InvariantCulture, $"{numbers[first]}–{numbers[i]}"),
            });
        }

        return string.Join(", ", said);
    }
}
