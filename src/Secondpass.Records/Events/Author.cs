namespace Secondpass.Records.Events;

/// <summary>Who notes something, and on which device.</summary>
/// <param name="Who">The person, as the clinic names them.</param>
/// <param name="Device">The device.</param>
public readonly record struct Author(string Who, string Device);

/// <summary>The number that a device gave an entry before it was sent: the same entry sent twice is stored once.</summary>
/// <param name="Device">The device's own identity.</param>
/// <param name="Sequence">The entry's number on that device, from 1.</param>
public readonly record struct EntryKey(string Device, long Sequence);
