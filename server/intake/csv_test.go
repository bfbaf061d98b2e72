package intake

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"tendfold/domain"
	"tendfold/server/app/register"

	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"pgregory.net/rapid"
)

// read is a table that must be readable.
func read(t require.TestingT, data []byte) *Table {
	table, err := Read(bytes.NewReader(data))
	require.NoError(t, err)
	return table
}

func refusedAs(t require.TestingT, data []byte, kind domain.Kind, code string) {
	_, err := Read(bytes.NewReader(data))
	require.Equal(t, code, domain.CodeOf(err))
	require.Equal(t, kind, domain.KindOf(err))
}

func TestRowNumbersAreThoseOfTheSpreadsheet(t *testing.T) {
	table := read(t, []byte("client,farm,unit,enterprise,town\n"+
		"A,f,u,snail,Buea\n"+
		"\n"+
		",,,,\n"+
		"\"B\",f,u,snail,\"two\nlines\"\n"+
		"C,f,u,snail,Limbe\r\n"))
	require.Equal(t, 3, table.Len())
	require.Equal(t, []int{2, 5, 6}, []int{table.lines[0].number, table.lines[1].number, table.lines[2].number})
	require.Equal(t, "two\nlines", table.lines[1].cells[4])
}

func TestTheHeaderMayHaveATitleAboveIt(t *testing.T) {
	table := read(t, []byte("Register of the firm\n\nclient;farm;unit;enterprise\nA;f;u;snail\n"))
	require.Equal(t, 3, table.header)
	require.Equal(t, 4, table.lines[0].number)
}

func TestSeparatorsAndEncodings(t *testing.T) {
	const text = "client%sferme%sunité%sfilière%sville\nAmélie Ébongué%sL’Étoile%s1%sescargot%sYaoundé\n"
	encodings := map[string]func(string) []byte{
		"utf-8":        func(s string) []byte { return []byte(s) },
		"utf-8 bom":    func(s string) []byte { return append([]byte("\xEF\xBB\xBF"), s...) },
		"windows-1252": func(s string) []byte { b, _ := charmap.Windows1252.NewEncoder().Bytes([]byte(s)); return b },
		"utf-16": func(s string) []byte {
			b, _ := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().Bytes([]byte(s))
			return b
		},
	}
	for name, encode := range encodings {
		for _, sep := range []string{",", ";", "\t"} {
			for _, end := range []string{"\n", "\r\n", "\r"} {
				data := encode(strings.ReplaceAll(strings.ReplaceAll(text, "%s", sep), "\n", end))
				table := read(t, data)
				require.Equal(t, []string{"Amélie Ébongué", "L’Étoile", "1", "escargot", "Yaoundé"}, table.lines[0].cells, "%s %q", name, sep)
				require.Equal(t, sep != ",", table.decimalComma)
			}
		}
	}
}

func TestTheSeparatorIsTheOneThatMakesAHeader(t *testing.T) {
	// More commas than semicolons, but only the semicolon gives names.
	table := read(t, []byte("client;farm;unit;enterprise;notes, remarks, other, more, and more\nA;f;u;snail;a,b,c,d,e,f\n"))
	require.True(t, table.decimalComma)
	// Spreadsheet programs hide such a first line, so it is no row.
	table = read(t, []byte("sep=;\nclient;farm;unit;enterprise\nA;f;u;snail\n"))
	require.Equal(t, 2, table.lines[0].number)
}

func TestQuotationMarks(t *testing.T) {
	table := read(t, []byte("client,farm,unit,enterprise,town\nA,Ferme \"Le Bon\",u,snail,Buea\nB,f,u,snail,Limbe\n"))
	require.Equal(t, `Ferme "Le Bon"`, table.lines[0].cells[1])
	require.Equal(t, 2, table.Len())
	refusedAs(t, []byte("client,farm,unit,enterprise\nA,\"f,u,snail\nB,f,u,snail\nC,f,u,snail\n"), domain.KindMalformed, "quotes-open")
}

func TestWhatIsNoRegister(t *testing.T) {
	refusedAs(t, nil, domain.KindInvalid, "header-missing")
	refusedAs(t, []byte("\n\n\n"), domain.KindInvalid, "header-missing")
	refusedAs(t, []byte("a,b,c\n1,2,3\n"), domain.KindInvalid, "header-missing")
	refusedAs(t, []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"), domain.KindMalformed, "file-not-a-table")
	refusedAs(t, []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"), domain.KindMalformed, "file-old-spreadsheet")
	refusedAs(t, []byte("PK\x03\x04 and no more"), domain.KindMalformed, "file-broken")

	_, err := Read(strings.NewReader("client,farm,town\nA,f,Buea\n"))
	require.Equal(t, "columns-missing", domain.CodeOf(err))
	require.ErrorContains(t, err, "unit (unite), enterprise (filiere)")
}

func TestBounds(t *testing.T) {
	const head = "client,farm,unit,enterprise,town\n"
	refusedAs(t, []byte(head+strings.Repeat("x", maxBytes)), domain.KindTooLarge, "file-too-large")
	refusedAs(t, []byte(head+strings.Repeat("A,f,u,snail,\n", maxRows+1)), domain.KindTooLarge, "too-many-rows")
	refusedAs(t, []byte(head+"A"+strings.Repeat(",x", maxColumns)+"\n"), domain.KindTooLarge, "too-many-columns")
	refusedAs(t, []byte(head+"A,f,u,snail,"+strings.Repeat("x", 4*maxCell+1)+"\n"), domain.KindMalformed, "cell-too-long")
	require.Equal(t, maxRows, read(t, []byte(head+strings.Repeat("A,f,u,snail,\n", maxRows))).Len())
}

func TestLetters(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		require.Equal(t, want, letters(i))
	}
}

// Whatever the cells hold, each row that is not blank comes back under its
// own number with what was written.
func TestCellsComeBack(t *testing.T) {
	cell := rapid.StringMatching(`[a-zéÀœ0-9 ,;"'\n.-]{0,12}`)
	rapid.Check(t, func(t *rapid.T) {
		sep := rapid.SampledFrom([]string{",", ";", "\t"}).Draw(t, "separator")
		rows := rapid.SliceOfN(rapid.SliceOfN(cell, 4, 4), 0, 8).Draw(t, "rows")
		text := strings.Join([]string{"client", "farm", "unit", "enterprise"}, sep) + "\n"
		want := map[int][]string{}
		for i, row := range rows {
			quoted := make([]string, len(row))
			for j, c := range row {
				quoted[j] = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
			}
			text += strings.Join(quoted, sep) + "\n"
			if strings.Join(row, "") != "" {
				want[i+2] = row
			}
		}
		table := read(t, []byte(text))
		require.Len(t, want, table.Len())
		for _, l := range table.lines {
			full := append(slices.Clone(l.cells), "", "", "", "")[:4]
			require.Equal(t, want[l.number], full)
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("client,farm,unit,enterprise,length,latitude\nA,f,u,snail,30 ft,4.05\n"))
	f.Add([]byte("client;ferme;unite;filiere;telephone_client\nA;f;u;escargot;+237 677 12 34 56\n"))
	f.Add([]byte("sep=\t\nclient\tfarm\tunit\tenterprise\tplanted_on\nA\tf\tu\tsnail\t12 mars 2026\n"))
	f.Add([]byte("client,farm,unit,enterprise\n\"A,f,u,snail\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		table, err := Read(bytes.NewReader(data))
		if err != nil {
			require.NotEmpty(t, domain.CodeOf(err), err)
			require.NotEqual(t, domain.KindInternal, domain.KindOf(err))
			return
		}
		rows, problems := table.Rows(reading(t))
		require.Len(t, rows, table.Len())
		refused := map[int]bool{}
		for _, p := range problems {
			require.NotEmpty(t, p.Text("en"))
			require.NotEmpty(t, p.Text("fr"))
			refused[p.Row] = refused[p.Row] || p.Severity == register.Refused
		}
		last := table.header
		for _, r := range rows {
			require.Greater(t, r.Number, last)
			last = r.Number
			require.Equal(t, refused[r.Number], r.Refused)
		}
	})
}
