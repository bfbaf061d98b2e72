// Package intake reads the firm's own register out of CSV and XLSX files and
// writes everything that Tendfold holds back into CSV files. It turns cells
// into typed rows and says of each cell that it cannot read what was wrong;
// what the rows mean for the register is decided in app/register.
package intake

import (
	"bytes"
	"fmt"
	"io"

	"tendfold/domain"
)

// Bounds on a file, so that no upload can fill the memory. A cell may hold
// what a spreadsheet program lets it hold.
const (
	maxBytes      = 20 << 20
	maxUnzipped   = 200 << 20
	maxParts      = 2_000 // files inside an XLSX
	maxRows       = 100_000
	maxColumns    = 200
	maxCell       = 32_767
	headerRows    = 20 // rows among which the header is looked for
	maxNameLength = 200
)

// line is a row of the file that is not blank, with the number that the
// person sees beside it.
type line struct {
	number int
	cells  []string
}

// grid is a file as cells, before its columns are known.
type grid struct {
	lines        []line
	decimalComma bool // a comma may be the decimal mark
	from1904     bool // day numbers count from 1904
}

// Read reads a register. What kind of file it is, is told by its content. The
// error is a domain.Error that says what to do: nothing of such a file can be
// used. Cells that cannot be understood are no error: see Table.Rows.
func Read(r io.Reader) (*Table, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, &domain.Error{Kind: domain.KindMalformed, Code: "file-broken", Text: "The file could not be read to its end. Send it again.", Err: err}
	}
	if len(data) > maxBytes {
		return nil, tooLarge("file-too-large", fmt.Sprintf("The file is larger than %d MB. Split it, or save only the sheet of the register.", maxBytes>>20))
	}
	g, err := readGrid(data)
	if err != nil {
		return nil, err
	}
	return newTable(g)
}

func readGrid(data []byte) (grid, error) {
	switch {
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		return readXLSX(data)
	case bytes.HasPrefix(data, []byte("\xD0\xCF\x11\xE0")):
		return grid{}, malformed("file-old-spreadsheet", "This is a spreadsheet of the old kind (.xls) or one with a password. Save it as .xlsx or .csv without a password and send that.")
	}
	return readCSV(data)
}

func malformed(code, text string) error {
	return &domain.Error{Kind: domain.KindMalformed, Code: code, Text: text}
}

func tooLarge(code, text string) error {
	return &domain.Error{Kind: domain.KindTooLarge, Code: code, Text: text}
}

// add appends a row, and refuses one that is out of bounds. Blank rows count
// as numbers and are left out.
func (g *grid) add(number int, cells []string) error {
	for len(cells) > 0 && cells[len(cells)-1] == "" {
		cells = cells[:len(cells)-1]
	}
	if len(cells) == 0 {
		return nil
	}
	if len(cells) > maxColumns {
		return tooLarge("too-many-columns", fmt.Sprintf("Row %d has more than %d columns. Delete the ones that are not part of the register.", number, maxColumns))
	}
	if len(g.lines) == maxRows+headerRows {
		return tooManyRows()
	}
	for i, c := range cells {
		if len(c) > 4*maxCell {
			return malformed("cell-too-long", fmt.Sprintf("Row %d, column %s holds more than %d characters. A quotation mark may have been left open there.", number, letters(i), maxCell))
		}
	}
	g.lines = append(g.lines, line{number, cells})
	return nil
}

func tooManyRows() error {
	return tooLarge("too-many-rows", fmt.Sprintf("The file has more than %d rows. Split it.", maxRows))
}

// letters is the name that spreadsheets give a column: A, B, ... Z, AA.
func letters(i int) string {
	name := ""
	for i++; i > 0; i = (i - 1) / 26 {
		name = string(rune('A'+(i-1)%26)) + name
	}
	return name
}
