package intake

import (
	"regexp"
	"strings"
	"sync"

	"tendfold/server/app/register"

	"github.com/nyaruka/phonenumbers"
)

// between stands between two numbers in one cell.
var between = regexp.MustCompile(`(?i)[/;|,&]|\s+(?:ou|or|et|and)\s+`)

// phone is a number as read, and what is to be said of it.
type phone struct {
	register.Phone
	code register.Code // "" = nothing
}

// parsePhone reads a number as people of region dial it. One that can be a
// number becomes E.164, whether or not the plan that we know gives it out
// yet: plans grow faster than our copy of them. One that cannot is kept as
// typed and flagged.
func parsePhone(text, region string) phone {
	first, several := text, false
	if parts := numbersIn(text); len(parts) > 1 {
		first, several = parts[0], true
	}
	number := possible(first, region)
	switch {
	case number == nil:
		return phone{register.Phone{Text: text, Flag: true}, register.PhoneInvalid}
	case several:
		return phone{register.Phone{Text: e164(number)}, register.PhoneSeveral}
	}
	return phone{register.Phone{Text: e164(number)}, ""}
}

// numbersIn parts a cell only where each part has figures enough for a
// number of its own.
func numbersIn(text string) []string {
	parts := between.Split(text, -1)
	for _, p := range parts {
		if len(phonenumbers.NormalizeDigitsOnly(p)) < 6 {
			return nil
		}
	}
	return parts
}

// possible is the number that the text means, nil when it can be none: as
// dialled in the region, else as an international one without its plus.
func possible(text, region string) *phonenumbers.PhoneNumber {
	text = strings.TrimSpace(text)
	if rest, ok := strings.CutPrefix(text, "00"); ok {
		text = "+" + rest
	}
	number, err := phonenumbers.Parse(text, region)
	if err == nil && phonenumbers.IsPossibleNumberWithReason(number) == phonenumbers.IS_POSSIBLE {
		return number
	}
	if strings.HasPrefix(text, "+") {
		return nil
	}
	number, err = phonenumbers.Parse("+"+text, "")
	if err == nil && phonenumbers.IsValidNumber(number) {
		return number
	}
	return nil
}

func e164(n *phonenumbers.PhoneNumber) string { return phonenumbers.Format(n, phonenumbers.E164) }

// regions are the countries that have a time zone to themselves, by zone, as
// the numbering plans know it.
var regions = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for region := range phonenumbers.GetSupportedRegions() {
		zones, err := phonenumbers.GetTimezonesForNumber(phonenumbers.GetExampleNumber(region))
		if err != nil || len(zones) != 1 {
			continue
		}
		if known, taken := out[zones[0]]; !taken || region < known {
			out[zones[0]] = region
		}
	}
	return out
})
