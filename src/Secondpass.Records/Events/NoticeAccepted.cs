namespace Secondpass.Records.Events;

/// <summary>The notice of the first start was read and accepted.</summary>
/// <param name="Notice">Which wording of it, from 1: a new wording is shown again.</param>
internal sealed record NoticeAccepted(int Notice);
