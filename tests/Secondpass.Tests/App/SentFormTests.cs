using Secondpass.App.Api;

namespace Secondpass.Tests.App;

public sealed class SentFormTests
{
    [Theory]
    [InlineData("Form.Reason", "Reason")]
    [InlineData("Form.UsesBefore", "Uses before")]
    [InlineData("Form.Steps[1].Note", "Steps 2, note")]
    [InlineData("Form.Canals[0].FillingEnd", "Canals 1, filling end")]
    [InlineData("Who", "Who")]
    public void Says_in_words_which_field_a_text_was_typed_into(string name, string words) => Assert.Equal(words, SentForm.InWords(name));

    [Fact]
    public void Shows_what_was_typed_and_nothing_that_the_page_added()
    {
        var sent = new SentForm(
            [("Form.Version", "12"), ("Form.Reason", "\nPain on biting"), ("_handler", "referral"), ("Form.Urgent", "true"), ("Form.Health[0].Question", "Allergies"), ("Form.Question", "Is it out?"), ("Form.Referrer", "  ")],
            []);

        Assert.Equal([("Reason", "Pain on biting"), ("Question", "Is it out?")], sent.Typed);
    }
}
