namespace Secondpass.Domain.Films;

/// <summary>The range of grey values that is spread over black to white on a screen. Looking only: nothing measured depends on it.</summary>
/// <param name="Black">The value shown black.</param>
/// <param name="White">The value shown white; greater than <paramref name="Black"/>.</param>
public readonly record struct GreyWindow(double Black, double White);
