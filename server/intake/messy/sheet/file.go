package sheet

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// Encodings are those that a CSV file may come in, by name.
var Encodings = map[string]encoding.Encoding{
	"utf-8":        encoding.Nop,
	"utf-8-bom":    unicode.UTF8BOM,
	"windows-1252": charmap.Windows1252,
	"utf-16":       unicode.UTF16(unicode.LittleEndian, unicode.UseBOM),
}

// CSV writes the sheet with a separator, in an encoding of Encodings.
func (s Sheet) CSV(to io.Writer, separator rune, in string) error {
	e, known := Encodings[in]
	if !known {
		return fmt.Errorf("no encoding is called %q", in)
	}
	out := csv.NewWriter(e.NewEncoder().Writer(to))
	out.Comma = separator
	for _, cells := range s.Rows {
		texts := make([]string, len(cells))
		for i, c := range cells {
			texts[i] = c.text()
		}
		if err := out.Write(texts); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// text is a cell as a spreadsheet saves it to CSV.
func (c Cell) text() string {
	switch {
	case !c.Date.IsZero():
		return c.Date.Format("02/01/2006")
	case c.Number != 0:
		return strconv.FormatFloat(c.Number, 'f', -1, 64)
	}
	return c.Text
}

// XLSX writes the sheet as a workbook, with real dates and numbers, behind a
// sheet of notes.
func (s Sheet) XLSX(to io.Writer) error {
	f := excelize.NewFile()
	defer func() { _ = f.Close() }()
	if _, err := f.NewSheet("Fermes"); err != nil {
		return err
	}
	if err := f.SetCellValue("Sheet1", "A1", "The register is on the next sheet."); err != nil {
		return err
	}
	out, err := f.NewStreamWriter("Fermes")
	if err != nil {
		return err
	}
	day, err := f.NewStyle(&excelize.Style{NumFmt: 14})
	if err != nil {
		return err
	}
	for i, cells := range s.Rows {
		values := make([]any, len(cells))
		for j, c := range cells {
			values[j] = c.value(day)
		}
		if err := out.SetRow(fmt.Sprintf("A%d", i+1), values); err != nil {
			return err
		}
	}
	if err := out.Flush(); err != nil {
		return err
	}
	return f.Write(to)
}

func (c Cell) value(day int) any {
	switch {
	case !c.Date.IsZero():
		return excelize.Cell{StyleID: day, Value: c.Date}
	case c.Number != 0:
		return c.Number
	case c.Text == "":
		return nil
	}
	return c.Text
}
