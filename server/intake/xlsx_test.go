package intake

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"io"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app/register"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// workbook writes rows to the first sheet and lets change do the rest.
func workbook(t require.TestingT, rows [][]any, change func(*excelize.File)) []byte {
	f := excelize.NewFile()
	for i, row := range rows {
		require.NoError(t, f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &row))
	}
	if change != nil {
		change(f)
	}
	var out bytes.Buffer
	require.NoError(t, f.Write(&out))
	return out.Bytes()
}

var head = []any{"Client", "Client phone", "Farm", "Unit", "Enterprise", "Planted on", "Stocked count", "Length", "Length unit", "Double door", "Latitude", "Longitude"}

func TestAWorkbook(t *testing.T) {
	data := workbook(t, [][]any{
		head,
		nil,
		{"Mbah Ada", 677123456, "Hill farm", 1, "snail", time.Date(2026, 3, 12, 0, 0, 0, 0, time.UTC), 1200, 12.3, "ft", true, 4.1 + 0.2, -9.24},
		{"Ébongué", "+237 677 22 33 44", "L'Étoile", "B", "silure", "12 mars 2026", "1 200", "12,5", "m", "non", "4,05", "9,7"},
	}, nil)
	rows, problems := read(t, data).Rows(reading(t))
	require.Empty(t, problems)
	r := rows[0]
	require.Equal(t, 3, r.Number, "a blank row counts")
	require.Equal(t, "+237677123456", r.ClientPhone.Text)
	require.Equal(t, "1", r.Unit)
	require.Equal(t, "2026-03-12", r.StartedOn.String())
	require.Equal(t, 1200, r.StockedCount)
	require.Equal(t, farm.Length{Value: 12.3, Measure: "ft"}, r.Build.Length)
	require.Equal(t, farm.Yes, r.Build.DoubleDoor)
	require.Equal(t, farm.Position{Lat: 4.3, Lng: -9.24, Known: true}, r.Position, "4.1 + 0.2 is stored as 4.3 less a hair")
	require.Equal(t, "2026-03-12", rows[1].StartedOn.String())
	require.Equal(t, farm.Length{Value: 12.5, Measure: "m"}, rows[1].Build.Length)
	require.Equal(t, farm.No, rows[1].Build.DoubleDoor)
}

func TestAWorkbookThatCountsFrom1904(t *testing.T) {
	yes := true
	data := workbook(t, [][]any{{"client", "farm", "unit", "enterprise", "planted_on"}, {"A", "f", "u", "snail", 44631}},
		func(f *excelize.File) {
			require.NoError(t, f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
		})
	rows, problems := read(t, data).Rows(reading(t))
	require.Empty(t, problems)
	require.Equal(t, "2026-03-12", rows[0].StartedOn.String()) // 46093 - 1462
}

func TestTheSheetWithTheHeaderIsTaken(t *testing.T) {
	data := workbook(t, [][]any{{"What this file is"}, {"Made in 2025"}}, func(f *excelize.File) {
		for _, name := range []string{"Hidden", "Farms"} {
			_, err := f.NewSheet(name)
			require.NoError(t, err)
			require.NoError(t, f.SetSheetRow(name, "A2", &[]any{"client", "ferme", "unite", "filiere"}))
			require.NoError(t, f.SetSheetRow(name, "A3", &[]any{"A", name, "1", "escargot"}))
		}
		require.NoError(t, f.SetSheetVisible("Hidden", false))
	})
	table := read(t, data)
	require.Equal(t, "Farms", table.lines[0].cells[1])
	require.Equal(t, 3, table.lines[0].number)
	require.Equal(t, "ferme", table.Header()[register.ColFarm])
}

func TestFormulasGiveWhatTheyLastCameTo(t *testing.T) {
	data := workbook(t, [][]any{{"client", "farm", "unit", "enterprise", "capacity"}, {"A", "f", "u", "snail", 40}}, func(f *excelize.File) {
		require.NoError(t, f.SetCellFormula("Sheet1", "E2", "20*2"))
	})
	rows, problems := read(t, data).Rows(reading(t))
	require.Empty(t, problems)
	require.Equal(t, 40, rows[0].Build.Capacity)
}

// bomb is a workbook of one sheet that says that it unpacks to claimed bytes
// and unpacks to a million.
func bomb(t *testing.T, claimed uint64) []byte {
	var packed bytes.Buffer
	deflate, err := flate.NewWriter(&packed, flate.BestSpeed)
	require.NoError(t, err)
	_, err = deflate.Write(bytes.Repeat([]byte(" "), 1_000_000))
	require.NoError(t, err)
	require.NoError(t, deflate.Close())
	return archive(t, &zip.FileHeader{
		Name: "xl/worksheets/sheet1.xml", Method: zip.Deflate,
		CompressedSize64: uint64(packed.Len()), UncompressedSize64: claimed,
	}, packed.Bytes(), 1)
}

// archive holds the same part so many times.
func archive(t *testing.T, header *zip.FileHeader, packed []byte, times int) []byte {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for range times {
		own := *header
		part, err := w.CreateRaw(&own)
		require.NoError(t, err)
		_, err = part.Write(packed)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return out.Bytes()
}

func TestAZipBombIsRefused(t *testing.T) {
	refusedAs(t, bomb(t, maxUnzipped+1), domain.KindTooLarge, "file-unpacks-too-large")
	half := &zip.FileHeader{Name: "x", UncompressedSize64: maxUnzipped/2 + 1, Method: zip.Deflate}
	refusedAs(t, archive(t, half, nil, 2), domain.KindTooLarge, "file-unpacks-too-large")
	refusedAs(t, archive(t, &zip.FileHeader{Name: "x"}, nil, maxParts+1), domain.KindTooLarge, "file-unpacks-too-large")
}

// A bomb may lie about its size: nobody unpacks more than it says.
func TestALyingZipBombIsRefused(t *testing.T) {
	refusedAs(t, bomb(t, 1024), domain.KindMalformed, "file-broken")
}

func TestAZipThatIsNoWorkbook(t *testing.T) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	part, err := w.Create("hello.txt")
	require.NoError(t, err)
	_, err = io.WriteString(part, "hello")
	require.NoError(t, err)
	require.NoError(t, w.Close())
	refusedAs(t, out.Bytes(), domain.KindMalformed, "file-broken")
}

func TestPlainNumber(t *testing.T) {
	for in, want := range map[string]string{
		"12.300000000000001":  "12.3",
		"0.30000000000000004": "0.3",
		"2.37677123456E+11":   "237677123456",
		"46093.000000000000":  "46093",
		"237677123456":        "237677123456", // whole numbers are left alone
		"12.3":                "12.3",
		"1.2.3.4.5.6.7.8":     "1.2.3.4.5.6.7.8",
		"2.37677123456E+99":   "2.37677123456E+99",
	} {
		require.Equal(t, want, plainNumber(in))
	}
}

// with is a workbook with another text for its sheet and its strings: a
// fuzzer that changed the archive would not get past its checksums.
func with(t require.TestingT, data []byte, parts map[string]string) []byte {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range z.File {
		part, err := w.Create(f.Name)
		require.NoError(t, err)
		if text, ok := parts[f.Name]; ok {
			_, err = io.WriteString(part, text)
		} else {
			var in io.ReadCloser
			in, err = f.Open()
			require.NoError(t, err)
			_, err = io.Copy(part, in) // made by this test
		}
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return out.Bytes()
}

func FuzzReadWorkbook(f *testing.F) {
	data := workbook(f, [][]any{head, {"A", 1, "f", "u", "snail", 46093, 1, 2, "m", true, 4, 9}}, nil)
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(f, err)
	text := map[string]string{}
	for _, part := range z.File {
		in, err := part.Open()
		require.NoError(f, err)
		b, err := io.ReadAll(in)
		require.NoError(f, err)
		text[part.Name] = string(b)
	}
	const sheet, strings = "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml"
	require.Contains(f, text[sheet], "<sheetData>")
	f.Add(text[sheet], text[strings])
	f.Add(`<worksheet><sheetData><row r="1048577"><c r="XFD1" t="s"><v>-1</v></c></row></sheetData></worksheet>`, `<sst><si><t>x</t></si></sst>`)
	f.Fuzz(func(t *testing.T, sheetText, stringsText string) {
		table, err := readXLSX(with(t, data, map[string]string{sheet: sheetText, strings: stringsText}))
		if err != nil {
			require.NotEqual(t, domain.KindInternal, domain.KindOf(err), err)
			return
		}
		require.LessOrEqual(t, len(table.lines), maxRows+headerRows)
	})
}
