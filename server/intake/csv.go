package intake

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"

	"tendfold/domain"
)

// separators are tried in this order; the first that yields the best header
// is taken.
const separators = ",;\t"

func readCSV(data []byte) (grid, error) {
	text, err := decode(data)
	if err != nil {
		return grid{}, err
	}
	sep, text := separatorOf(text)
	g, err := readSeparated(text, sep, false)
	if _, ok := errors.AsType[*csv.ParseError](err); ok {
		// A mark of inches or a name in quotation marks, written by hand.
		g, err = readSeparated(text, sep, true)
	}
	g.decimalComma = sep != ','
	return g, err
}

// separatorOf finds the separator: told by a first line such as "sep=;",
// which spreadsheet programs hide, else the one with which the most columns
// of the header are known.
func separatorOf(text string) (sep rune, rest string) {
	firstLine, rest, _ := strings.Cut(text, "\n")
	if told, ok := strings.CutPrefix(strings.ToLower(strings.Trim(firstLine, "\" ")), "sep="); ok && len(told) == 1 && strings.Contains(separators, told) {
		return rune(told[0]), rest
	}
	best, bestScore := ',', -1
	for _, sep := range separators {
		if score := scoreOf(text, sep); score > bestScore {
			best, bestScore = sep, score
		}
	}
	return best, text
}

// scoreOf weighs a known column over any number of mere ones.
func scoreOf(text string, sep rune) int {
	var g grid
	in := newReader(text, sep, true)
	for range headerRows {
		cells, err := in.Read()
		if err != nil {
			break
		}
		if len(cells) <= maxColumns {
			g.lines = append(g.lines, line{cells: cells})
		}
	}
	at, known := g.header()
	if at < 0 {
		return 0
	}
	return known*(maxColumns+1) + len(g.lines[at].cells)
}

func newReader(text string, sep rune, lazy bool) *csv.Reader {
	in := csv.NewReader(strings.NewReader(text))
	in.Comma, in.FieldsPerRecord, in.LazyQuotes = sep, -1, lazy
	return in
}

// readSeparated numbers the rows as a spreadsheet shows them: a blank line is
// a row, a cell with line breaks is still one.
func readSeparated(text string, sep rune, lazy bool) (grid, error) {
	var g grid
	in := newReader(text, sep, lazy)
	number, lastLine := 0, 0
	for {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			return g, nil
		}
		if err != nil {
			return g, quoteError(err)
		}
		start, _ := in.FieldPos(0)
		number += start - lastLine
		end, _ := in.FieldPos(len(cells) - 1)
		lastLine = end + strings.Count(cells[len(cells)-1], "\n")
		if lazy && strings.Contains(strings.Join(cells, ""), "\n") {
			// Reading on past a stray mark may swallow whole rows.
			return g, quoteError(&csv.ParseError{StartLine: start, Line: start, Err: csv.ErrQuote})
		}
		if err := g.add(number, cells); err != nil {
			return g, err
		}
	}
}

// quoteError keeps the cause, so that the file can be tried again.
func quoteError(err error) error {
	lineNumber := 0
	if at, ok := errors.AsType[*csv.ParseError](err); ok {
		lineNumber = at.StartLine
	}
	return &domain.Error{
		Kind: domain.KindMalformed, Code: "quotes-open", Err: err,
		Text: fmt.Sprintf("Line %d of the file has a quotation mark too many or too few. Put it right there, or save the file anew from the spreadsheet.", lineNumber),
	}
}
