package intake

import (
	"testing"

	"tendfold/server/app/register"

	"github.com/nyaruka/phonenumbers"
	"github.com/stretchr/testify/require"
)

// The numbering plans' own example numbers, for every region and kind of
// number that people have, dialled in all the ways that people write them.
func TestTheLibrarysOwnExamples(t *testing.T) {
	kinds := []phonenumbers.PhoneNumberType{phonenumbers.MOBILE, phonenumbers.FIXED_LINE, phonenumbers.FIXED_LINE_OR_MOBILE}
	forms := []phonenumbers.PhoneNumberFormat{phonenumbers.E164, phonenumbers.INTERNATIONAL, phonenumbers.NATIONAL}
	for _, region := range []string{"CM", "NG", "GH", "FR", "GB", "CI", "SN"} {
		for _, kind := range kinds {
			number := phonenumbers.GetExampleNumberForType(region, kind)
			if number == nil {
				continue
			}
			want := phonenumbers.Format(number, phonenumbers.E164)
			for _, form := range forms {
				text := phonenumbers.Format(number, form)
				require.Equal(t, phone{register.Phone{Text: want}, ""}, parsePhone(text, region), "%s in %s", text, region)
			}
			require.Equal(t, want, parsePhone("00"+want[1:], region).Text)
		}
	}
}

func TestNumbersOfOtherCountries(t *testing.T) {
	nigerian := phonenumbers.Format(phonenumbers.GetExampleNumberForType("NG", phonenumbers.MOBILE), phonenumbers.E164)
	require.Equal(t, nigerian, parsePhone(nigerian, "CM").Text)
	require.Equal(t, nigerian, parsePhone(nigerian[1:], "CM").Text, "a spreadsheet takes the plus away")
	require.Equal(t, nigerian, parsePhone(nigerian, "").Text)
}

func TestNumbersThatAreNone(t *testing.T) {
	for _, text := range []string{"12", "none", "+999 123", "2.37677E+11", "677 12 34", "67712345678901234567"} {
		require.Equal(t, phone{register.Phone{Text: text, Flag: true}, register.PhoneInvalid}, parsePhone(text, "CM"), text)
	}
	// Possible is enough, though no plan that we know gives it out.
	require.Equal(t, phone{register.Phone{Text: "+237600123456"}, ""}, parsePhone("600 12 34 56", "CM"))
	require.Equal(t, phone{register.Phone{Text: "+237600123456"}, ""}, parsePhone("237600123456", "CM"))
}

func TestCountryByZone(t *testing.T) {
	for zone, want := range map[string]string{"Africa/Douala": "CM", "Africa/Lagos": "NG", "Africa/Accra": "GH", "UTC": ""} {
		require.Equal(t, want, regions()[zone], zone)
	}
}

func TestTheBranchTellsTheCountry(t *testing.T) {
	r, problems := typed(t, "branch;client_phone", "Accra;024 123 4567")
	require.Empty(t, problems)
	require.Equal(t, "+233241234567", r.ClientPhone.Text)
	r, _ = typed(t, "branch;client_phone", "Buea;677 123 456")
	require.Equal(t, "+237677123456", r.ClientPhone.Text)
}

func FuzzParsePhone(f *testing.F) {
	for _, s := range []string{"+237677123456", "677 12 34 56 / 699", "00237", "tel:+237;ext=5", "(0)24-123-4567", "²³⁷"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p := parsePhone(s, "CM")
		if p.code != register.PhoneInvalid {
			again := parsePhone(p.Text, "CM")
			require.Equal(t, p.Text, again.Text, "a number once read reads back to itself")
		} else {
			require.Equal(t, s, p.Text)
		}
	})
}
