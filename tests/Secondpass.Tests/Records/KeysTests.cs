using System.Security.Cryptography;
using System.Text;
using CsCheck;
using Secondpass.Domain.Cases;
using Secondpass.Domain.Instruments;
using Secondpass.Records;
using Secondpass.Records.Databases;
using Secondpass.Records.Keys;

namespace Secondpass.Tests.Records;

public sealed class KeysTests
{
    private const string Alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

    [Fact]
    public void A_key_written_in_groups_is_read_back() => Gen.Byte.Array[32].Sample(key =>
        Assert.Equal(key, RecoveryCode.Read(string.Join('\n', RecoveryCode.Write(key))).Value));

    // Worked by hand: of a key of zeros each character is 0, and the check is the group's number times x^5 in the field.
    [Fact]
    public void The_key_of_zeros_has_groups_that_differ_in_their_check_only()
    {
        var groups = RecoveryCode.Write(new byte[32]);

        Assert.Equal(RecoveryCode.Groups, groups.Count);
        Assert.All(groups, group => Assert.StartsWith("0000", group, StringComparison.Ordinal));
        Assert.Equal(groups.Count, groups.Distinct().Count());
        Assert.Equal(["00005", "0000A", "0000F"], groups.Take(3));
    }

    [Fact]
    public void Every_single_misread_character_is_found_and_its_group_named()
    {
        var groups = RecoveryCode.Write(Enumerable.Range(7, 32).Select(value => (byte)(value * 37)).ToArray());
        for (var group = 0; group < groups.Count; group++)
        {
            for (var place = 0; place < 5; place++)
            {
                foreach (var other in Alphabet.Where(other => other != groups[group][place]))
                {
                    var misread = groups.ToArray();
                    misread[group] = groups[group][..place] + other + groups[group][(place + 1)..];

                    var refusal = RecoveryCode.Read(string.Join(' ', misread)).Refusal;

                    Assert.Equal("recovery_group_wrong", refusal.Code);
                    Assert.Equal(FormattableString.Invariant($"Group {group + 1}, “{misread[group]}”, is misread or stands in the wrong place: its last character doesn't fit."), refusal.Reason);
                }
            }
        }
    }

    [Fact]
    public void Neighbours_exchanged_and_groups_exchanged_are_found() => Gen.Select(Gen.Byte.Array[32], Gen.Int[0, 12], Gen.Int[0, 12], Gen.Int[0, 3]).Sample((key, one, other, place) =>
    {
        var groups = RecoveryCode.Write(key).ToArray();
        if (groups[one][place] != groups[one][place + 1])
        {
            var exchanged = groups.ToArray();
            exchanged[one] = groups[one][..place] + groups[one][place + 1] + groups[one][place] + groups[one][(place + 2)..];
            Assert.Equal("recovery_group_wrong", RecoveryCode.Read(string.Join(' ', exchanged)).Refusal.Code);
        }

        if (one != other)
        {
            (groups[one], groups[other]) = (groups[other], groups[one]);
            Assert.Equal("recovery_group_wrong", RecoveryCode.Read(string.Join(' ', groups)).Refusal.Code);
        }
    });

    [Fact]
    public void Reads_a_whole_sheet_and_groups_as_people_type_them()
    {
        var bytes = Enumerable.Range(0, 32).Select(value => (byte)(value * 11)).ToArray();
        var sheet = RecoverySheet.Text(new ClinicKey(bytes));
        var typed = string.Join("  ", RecoveryCode.Write(bytes)).ToLowerInvariant().Replace('0', 'o').Replace('1', 'l');

        Assert.Equal(bytes, RecoveryCode.Read(sheet).Value);
        Assert.Equal(bytes, RecoveryCode.Read(sheet.ReplaceLineEndings("\r\n")).Value);
        Assert.Equal(bytes, RecoveryCode.Read(typed).Value);
        var refusal = RecoveryCode.Read(typed[..^5]).Refusal;
        Assert.Equal("There are 12 groups of five characters; a recovery sheet has 13.", refusal.Reason);
        Assert.Equal("Type all groups in the order of their numbers, each on a line of its own or with spaces between.", refusal.Remedy);
    }

    [Fact]
    public void Says_on_the_sheet_what_it_is_and_how_it_is_used()
    {
        var text = RecoverySheet.Text(new ClinicKey(new byte[32]));

        Assert.StartsWith("Secondpass recovery sheet\n", text, StringComparison.Ordinal);
        Assert.Contains("secondpass key --restore FILE", text, StringComparison.Ordinal);
        Assert.Contains("   1: 00005\n", text, StringComparison.Ordinal);
        Assert.Contains("  13: ", text, StringComparison.Ordinal);
    }

    // NIST, The Galois/Counter Mode of Operation, test case 14: AES-256, key and nonce of zeros, 16 bytes of zeros.
    [Fact]
    public void Opens_what_the_standard_s_own_example_sealed()
    {
        byte[] sealedBytes = [.. new byte[12], .. Convert.FromHexString("cea7403d4d606b6e074ec5d3baf39d18"), .. Convert.FromHexString("d0d1c8a799996bf0265b98b5d48ab919")];

        Assert.Equal(new byte[16], Sealing.Open(new byte[32], string.Empty, sealedBytes));
    }

    [Fact]
    public void What_was_changed_or_put_elsewhere_is_not_opened() => Gen.Select(Gen.Byte.Array[1, 60], Gen.Int[0, 10_000], Gen.Int[0, 7]).Sample((plain, place, bit) =>
    {
        var key = SHA256.HashData("key"u8);
        var sealedBytes = Sealing.Seal(key, "here", plain);
        Assert.Equal(plain, Sealing.Open(key, "here", sealedBytes));
        Assert.Null(Sealing.Open(key, "there", sealedBytes));
        Assert.Null(Sealing.Open(SHA256.HashData("other"u8), "here", sealedBytes));
        sealedBytes[place % sealedBytes.Length] ^= (byte)(1 << bit);
        Assert.Null(Sealing.Open(key, "here", sealedBytes));
    });
}

public sealed class KeysOnSqliteTests() : KeysInStoreTests(StoreKind.Sqlite);

public sealed class KeysOnPostgresTests() : KeysInStoreTests(StoreKind.Postgres)
{
    [Fact]
    public void A_forgotten_key_is_gone_while_somebody_else_still_reads_the_server()
    {
        using var place = new StoreUnderTest(StoreKind.Postgres);
        using var store = place.Open();
        Assert.True(store.Cases.Open(CaseStoreTests.Opened("4711-17"), CaseStoreTests.Ann).IsGiven);
        var wrapped = Assert.Single(place.Column<byte[]>("SELECT wrapped FROM patient_keys"));
        using var database = place.Database();
        using var connection = database.Connect();
        using var reading = database.BeginRead(connection);
        Assert.Equal([1L], reading.Rows("SELECT count(*) FROM events", row => row.GetInt64(0)));

        Assert.Equal(1, store.Cases.ForgetPatient("4711-17", CaseStoreTests.Ann).Value);

        Assert.False(place.Holds(wrapped));
    }
}

public abstract class KeysInStoreTests(StoreKind kind) : IDisposable
{
    private const string Secret = "Pat Example-Unmistakable";

    private readonly StoreUnderTest place = new(kind);

    public void Dispose()
    {
        place.Dispose();
        GC.SuppressFinalize(this);
    }

    [Fact]
    [System.Runtime.Versioning.UnsupportedOSPlatform("windows")]
    public void The_clinic_key_is_readable_by_its_owner_only()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Rights are the folder's there.");
        place.Open().Dispose();
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(place.Of("clinic.key")));

        File.SetUnixFileMode(place.Of("clinic.key"), UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead | UnixFileMode.OtherRead);
        place.Open().Dispose();
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(place.Of("clinic.key")));
    }

    [Fact]
    public void Without_its_key_a_store_is_refused_and_with_the_recovery_sheet_it_opens_again()
    {
        string sheet;
        using (var store = place.Open())
        {
            OpenCase(store);
            sheet = store.RecoverySheet();
        }

        File.Delete(place.Of("clinic.key"));
        var refusal = ClinicStore.Open(place.Folder, place.Clock, place.Address).Refusal;
        Assert.Equal("clinic_key_missing", refusal.Code);
        Assert.Equal($"The clinic key “{place.Of("clinic.key")}” is missing; without it the cases in “{Name()}” can't be read.", refusal.Reason);
        Assert.Equal("Put the file back from your backup, or type the recovery sheet into a text file and run: secondpass key --restore FILE. Nothing was changed.", refusal.Remedy);
        Assert.False(File.Exists(place.Of("clinic.key")));

        Assert.Contains(ClinicStore.RestoreKey(place.Folder, sheet, place.Clock).Value, sheet, StringComparison.Ordinal);
        using var again = place.Open();
        Assert.Equal(Secret, Assert.Single(again.Cases.List()).PatientName);
        Assert.Equal(sheet, again.RecoverySheet());
    }

    [Fact]
    public void Another_clinic_s_key_is_refused_and_put_aside_when_the_right_one_is_restored()
    {
        string sheet;
        using (var store = place.Open())
        {
            sheet = store.RecoverySheet();
        }

        ClinicStore.RestoreKey(place.Folder, string.Join('\n', RecoveryCode.Write(new byte[32])), place.Clock);
        var refusal = ClinicStore.Open(place.Folder, place.Clock, place.Address).Refusal;
        Assert.Equal("clinic_key_wrong", refusal.Code);
        Assert.Equal($"The clinic key “{place.Of("clinic.key")}” is not the one that the cases in “{Name()}” were written with.", refusal.Reason);

        place.Clock.Now += TimeSpan.FromMinutes(1);
        ClinicStore.RestoreKey(place.Folder, sheet, place.Clock);
        place.Open().Dispose();
        Assert.Equal(["clinic.key", "clinic.key.put-aside-20260304-093000", "clinic.key.put-aside-20260304-093100"], Directory.GetFiles(place.Folder, "clinic.key*").Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_damaged_key_file_is_refused_naming_the_group()
    {
        place.Open().Dispose();
        var text = File.ReadAllLines(place.Of("clinic.key"));
        var line = Array.FindIndex(text, one => one.StartsWith("   4: ", StringComparison.Ordinal));
        text[line] = "   4: " + (text[line][6] == 'A' ? 'B' : 'A') + text[line][7..];
        File.WriteAllLines(place.Of("clinic.key"), text);

        var refusal = ClinicStore.Open(place.Folder, place.Clock, place.Address).Refusal;

        Assert.Equal("clinic_key_unreadable", refusal.Code);
        Assert.StartsWith($"The clinic key “{place.Of("clinic.key")}” can't be read: Group 4, “", refusal.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_that_was_noted_about_a_patient_stands_readable_in_the_database()
    {
        using (var store = place.Open())
        {
            OpenCase(store);
        }

        Assert.False(place.Holds(Encoding.UTF8.GetBytes(Secret)));
        Assert.False(place.Holds("4711-17"u8));

        // That the search would find it.
        Assert.True(place.Holds("case_opened"u8));
    }

    [Fact]
    public void A_forgotten_patient_is_gone_for_good_and_no_chain_breaks()
    {
        using var store = place.Open();
        var id = OpenCase(store);
        var other = store.Cases.Open(CaseStoreTests.Opened("other"), CaseStoreTests.Ann).Value.Id;
        var paper = store.Cases.KeepFile("letter about the patient"u8).Value;
        var film = store.KeepFilm("film of the patient"u8).Value;
        store.Cases.Append(id, 1, CaseStoreTests.Ann, [
            new PaperAttached(new AttachedFile(paper, "letter.pdf", "application/pdf")),
            new FilmAttached(new CaseFilm(film, FilmMoment.Before, TubeShift.Straight, null))]);
        store.Cases.AppendEntry(id, new("chair", 1), CaseStoreTests.Ann, CaseStoreTests.Step("item 7", 1));
        var before = place.Column<byte[]>("SELECT wrapped FROM patient_keys");

        Assert.Equal(1, store.Cases.ForgetPatient("4711-17", CaseStoreTests.Ann).Value);

        Assert.Equal([other], store.Cases.List().Select(line => line.Id));
        var refusal = store.Cases.Read(id).Refusal;
        Assert.Equal("patient_forgotten", refusal.Code);
        Assert.Equal("The patient of this case was forgotten: what was noted can't be read any more.", refusal.Reason);
        Assert.Equal("patient_forgotten", store.Cases.Append(id, 4, CaseStoreTests.Ann, []).Refusal.Code);
        Assert.Equal("patient_forgotten", store.Cases.History(id).Refusal.Code);
        Assert.False(store.Cases.ReadFile(paper).IsGiven);
        Assert.False(store.ReadFilm(film).IsGiven);
        Assert.Equal(1, store.Cases.Uses("item 7", UseCount.PerToothAndVisit));
        Assert.Null(store.Check().Value.FirstBroken);

        // Of the two wrapped keys one is left, and the other stands nowhere in the store's files.
        Assert.Equal(2, before.Count);
        Assert.Single(before, wrapped => place.Holds(wrapped));
    }

    [Fact]
    public void Canals_of_a_forgotten_patient_are_still_counted_and_none_is_named()
    {
        using var store = place.Open();
        var id = OpenCase(store);
        var named = $"the one {Secret} asked about";
        foreach (var (number, canal) in ((string[])[named, "MB1", named]).Index())
        {
            store.Cases.AppendEntry(id, new("chair", number + 1), CaseStoreTests.Ann, CaseStoreTests.Step("item 7", 1) with { Canal = canal });
        }

        var sealedNumbers = Canals();
        Assert.Equal([true, false], [sealedNumbers[0] == sealedNumbers[2], sealedNumbers[0] == sealedNumbers[1]]);

        store.Cases.ForgetPatient("4711-17", CaseStoreTests.Ann);

        Assert.Equal([1, 2, 1], Canals());
        Assert.Equal((2, 1), (store.Cases.Uses("item 7", UseCount.PerCanal), store.Cases.Uses("item 7", UseCount.PerToothAndVisit)));
        Assert.False(place.Holds(Encoding.UTF8.GetBytes(named)));
        Assert.True(store.Rebuild().IsGiven);
        Assert.Equal([1, 2, 1], Canals());

        IReadOnlyList<long> Canals() => place.Column<long>("SELECT canal FROM instrument_uses ORDER BY entry");
    }

    [Fact]
    public void The_number_of_a_canal_says_nothing_of_it_in_another_case()
    {
        using var store = place.Open();
        foreach (var number in (string[])["1", "2"])
        {
            var id = store.Cases.Open(CaseStoreTests.Opened(number), CaseStoreTests.Ann).Value.Id;
            store.Cases.AppendEntry(id, new("chair", int.Parse(number, System.Globalization.CultureInfo.InvariantCulture)), CaseStoreTests.Ann, CaseStoreTests.Step("item 7", 1));
        }

        Assert.Equal(2, place.Column<long>("SELECT DISTINCT canal FROM instrument_uses").Count);
    }

    [Fact]
    public void A_patient_who_comes_again_after_being_forgotten_gets_a_new_key()
    {
        using var store = place.Open();
        var old = OpenCase(store);
        store.Cases.ForgetPatient("4711-17", CaseStoreTests.Ann);

        var id = OpenCase(store);

        Assert.Equal("4711-17", store.Cases.Read(id).Value.Patient.Number);
        Assert.False(store.Cases.Read(old).IsGiven);
    }

    [Fact]
    public void A_case_whose_number_was_corrected_is_forgotten_with_the_right_patient_and_not_with_the_wrong_one()
    {
        using var store = place.Open();
        var mine = store.Cases.Open(CaseStoreTests.Opened("right"), CaseStoreTests.Ann).Value.Id;
        var moved = store.Cases.Open(CaseStoreTests.Opened("wrong"), CaseStoreTests.Ann).Value.Id;
        Assert.True(store.Cases.CorrectPatient(moved, 1, CaseStoreTests.Ann, new PatientCorrected(new Patient("right", null), "typed wrongly")).IsGiven);
        var theirs = store.Cases.Open(CaseStoreTests.Opened("wrong"), CaseStoreTests.Ann).Value.Id;

        Assert.Equal(1, store.Cases.ForgetPatient("wrong", CaseStoreTests.Ann).Value);
        Assert.True(store.Cases.Read(moved).IsGiven);
        Assert.False(store.Cases.Read(theirs).IsGiven);

        Assert.Equal(2, store.Cases.ForgetPatient("right", CaseStoreTests.Ann).Value);
        Assert.False(store.Cases.Read(moved).IsGiven);
        Assert.False(store.Cases.Read(mine).IsGiven);
        Assert.Null(store.Check().Value.FirstBroken);
    }

    [Fact]
    public void Says_that_there_is_no_such_patient_to_forget()
    {
        using var store = place.Open();

        var refusal = store.Cases.ForgetPatient("nobody", CaseStoreTests.Ann).Refusal;

        Assert.Equal("There is no case of a patient “nobody” here.", refusal.Reason);
        Assert.Equal("Give the patient number exactly as it stands in the list of cases.", refusal.Remedy);
    }

    [Fact]
    public void A_case_whose_event_was_changed_is_refused_by_name_and_the_others_still_open()
    {
        using var store = place.Open();
        var id = OpenCase(store);
        var other = store.Cases.Open(CaseStoreTests.Opened("other"), CaseStoreTests.Ann).Value.Id;
        place.Execute("UPDATE events SET kind_version = 1, version = 1, payload = x'01ff' WHERE position = 1");

        var refusal = store.Cases.Read(id).Refusal;

        Assert.Equal("event_damaged", refusal.Code);
        Assert.Equal($"What was noted as number 1 of “case/{id}” is not what was stored: it was changed or damaged.", refusal.Reason);
        Assert.True(store.Cases.Read(other).IsGiven);
        Assert.Equal("event_damaged", store.Rebuild().Refusal.Code);
    }

    private static CaseId OpenCase(ClinicStore store) =>
        store.Cases.Open(CaseStoreTests.Opened("4711-17") with { Patient = new Patient("4711-17", Secret) }, CaseStoreTests.Ann).Value.Id;

    private string Name()
    {
        using var database = place.Database();
        return database.Name;
    }
}
