package intake

import (
	"archive/zip"
	"bytes"
	"fmt"
	"regexp"
	"strconv"

	"tendfold/domain"

	"github.com/xuri/excelize/v2"
)

func readXLSX(data []byte) (g grid, err error) {
	// A workbook is other people's XML: the library must not take the server
	// down with it, whatever it meets.
	defer func() {
		if r := recover(); r != nil {
			g, err = grid{}, brokenWorkbook(fmt.Errorf("%v", r))
		}
	}()
	if err := checkZip(data); err != nil {
		return grid{}, err
	}
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: maxUnzipped, UnzipXMLSizeLimit: maxUnzipped,
	})
	if err != nil {
		return grid{}, brokenWorkbook(err)
	}
	defer func() { _ = f.Close() }() // nothing was written
	sheet, err := registerSheet(f)
	if err != nil {
		return grid{}, err
	}
	g, err = readSheet(f, sheet, maxRows+headerRows)
	g.decimalComma, g.from1904 = true, counts1904(f)
	return g, err
}

// checkZip refuses what would unpack to more than we take. The sizes are the
// archive's own word, but the reader below holds each part to it.
func checkZip(data []byte) error {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return brokenWorkbook(err)
	}
	var sum uint64
	for _, part := range z.File {
		if sum += part.UncompressedSize64; part.UncompressedSize64 > maxUnzipped || sum > maxUnzipped || len(z.File) > maxParts {
			return tooLarge("file-unpacks-too-large", fmt.Sprintf("The workbook unpacks to more than %d MB. Save only the sheet of the register, as .csv or in a new workbook.", maxUnzipped>>20))
		}
	}
	return nil
}

func brokenWorkbook(err error) error {
	return &domain.Error{Kind: domain.KindMalformed, Code: "file-broken", Text: "This is not a workbook that can be read. Open it in the spreadsheet program, save it as .xlsx or .csv, and send that.", Err: err}
}

// registerSheet is the visible sheet whose header has the most known columns,
// the first of equals.
func registerSheet(f *excelize.File) (string, error) {
	best, bestKnown := "", -1
	for _, name := range f.GetSheetList() {
		if visible, err := f.GetSheetVisible(name); err != nil || !visible {
			continue
		}
		g, err := readSheet(f, name, headerRows)
		if err != nil {
			return "", err
		}
		if _, known := g.header(); known > bestKnown {
			best, bestKnown = name, known
		}
	}
	if best == "" {
		return "", brokenWorkbook(nil)
	}
	return best, nil
}

// readSheet reads rows until it has so many that are not blank, and one more
// to notice that there are too many.
func readSheet(f *excelize.File, sheet string, enough int) (grid, error) {
	var g grid
	rows, err := f.Rows(sheet)
	if err != nil {
		return g, brokenWorkbook(err)
	}
	defer func() { _ = rows.Close() }()
	for number := 1; rows.Next(); number++ {
		cells, err := rows.Columns()
		if err != nil {
			return g, brokenWorkbook(err)
		}
		for i, c := range cells {
			cells[i] = plainNumber(c)
		}
		if enough < maxRows && len(g.lines) == enough {
			return g, nil
		}
		if err := g.add(number, cells); err != nil {
			return g, err
		}
	}
	if err := rows.Error(); err != nil {
		return g, brokenWorkbook(err)
	}
	return g, nil
}

func counts1904(f *excelize.File) bool {
	props, err := f.GetWorkbookProps()
	return err == nil && props.Date1904 != nil && *props.Date1904
}

// stored is a number that is not whole, as a workbook stores it.
var stored = regexp.MustCompile(`^-?\d+(\.\d+)?([eE][+-]?\d+)?$`)

// plainNumber undoes what binary arithmetic did to a number on its way into
// the workbook: spreadsheets show fifteen figures and store seventeen, so
// that 12.3 may be kept as 12.300000000000001.
func plainNumber(cell string) string {
	if len(cell) < 12 || !stored.MatchString(cell) || !bytes.ContainsAny([]byte(cell), ".eE") {
		return cell
	}
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		return cell
	}
	short, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if short >= 1e15 || short <= -1e15 {
		return cell
	}
	return strconv.FormatFloat(short, 'f', -1, 64)
}
