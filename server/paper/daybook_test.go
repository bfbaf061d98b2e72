package paper_test

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/server/app"
	"tendfold/server/paper"

	"github.com/stretchr/testify/require"
)

// sheetOf is the page of an enterprise as the packs have it.
func sheetOf(t *testing.T, enterprise, language string) paper.Daybook {
	t.Helper()
	packs, err := checklists.Embedded()
	require.NoError(t, err)
	pack, ok := packs.Pack(enterprise)
	require.True(t, ok)
	s := app.DaybookSheet{
		Firm: "Palmwalk Farm Builders", Language: language, Groups: app.BookOf(pack, language).Groups,
		Advisors: []app.TodayContact{{Name: "Ana Fon", Phone: "+237 000 000 001"}},
	}
	s.Farm, s.Town, s.Unit = "Bassin du Quai", "Buea", "Œuvre 1"
	s.From = calendar.MustDate("2026-02-23") // a Monday
	s.To = s.From.Add(app.PageDays - 1)
	return paper.Daybook{DaybookSheet: s}
}

func TestADaybookPageAsksForEveryFieldOfThePack(t *testing.T) {
	for _, enterprise := range []string{"snail", "catfish"} {
		for _, language := range []string{"en", "fr"} {
			t.Run(enterprise+" "+language, func(t *testing.T) {
				d := sheetOf(t, enterprise, language)
				pdf, err := d.PDF()
				require.NoError(t, err)
				require.Contains(t, string(pdf), "/Count 1\n", "two weeks fit on one page")
				require.Contains(t, string(pdf), "841.89 595.28", "A4 by ISO 216, lying, in points")
				text := textOf(t, pdf)
				for _, g := range d.Groups {
					for _, f := range g.Fields {
						require.Contains(t, text, f.Name)
						for i, o := range f.Choices {
							first, _, _ := strings.Cut(o.Name, " ")
							require.Contains(t, text, strconv.Itoa(i+1)+"\u00a0"+first, "an answer has its number")
							for word := range strings.FieldsSeq(o.Name) {
								require.Contains(t, text, word)
							}
						}
					}
				}
				for _, want := range []string{"Bassin du Quai", "Œuvre 1", "Buea", "Palmwalk Farm Builders", "Ana Fon", "+237 000 000 001"} {
					require.Contains(t, text, want)
				}
				if out := os.Getenv("TENDFOLD_PAPER"); out != "" {
					require.NoError(t, os.WriteFile(out+"/"+enterprise+"-"+language+".pdf", pdf, 0o600))
				}
				again, err := d.PDF()
				require.NoError(t, err)
				require.Equal(t, pdf, again, "the same page has the same bytes")
			})
		}
	}
}

func TestADaybookPageSaysWhichDays(t *testing.T) {
	for language, want := range map[string][]string{
		"en": {"23 Feb 2026 to 8 Mar 2026", "Mon", "Sun", "1 Mar", "All well, nothing died", "an empty box is not a zero", "Signature or mark"},
		"fr": {"du 23 févr. 2026 au 8 mars 2026", "lun.", "dim.", "1er mars", "aucune mort", "une case vide n’est pas un zéro", "Signature ou marque"},
	} {
		pdf, err := sheetOf(t, "snail", language).PDF()
		require.NoError(t, err)
		text := textOf(t, pdf)
		for _, w := range want {
			require.Contains(t, text, w)
		}
	}
}

// An enterprise that asks for more than a page holds gets a second one, with
// its head and its foot.
func TestALongDaybookGoesOnOnASecondPage(t *testing.T) {
	d := sheetOf(t, "snail", "en")
	d.Groups = append(d.Groups, d.Groups...)
	pdf, err := d.PDF()
	require.NoError(t, err)
	require.Contains(t, string(pdf), "/Count 2\n")
}
