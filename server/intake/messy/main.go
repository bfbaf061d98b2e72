// Command messy prints an invented register as people keep them, to try an
// import with: go run ./server/intake/messy --rows 500 --seed 7 > register.csv
package main

import (
	"flag"
	"fmt"
	"os"
	"time"
	"unicode/utf8"

	"tendfold/server/intake/messy/sheet"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "messy:", err)
		os.Exit(1)
	}
}

func run() error {
	rows := flag.Int("rows", 500, "rows to invent")
	seed := flag.Uint64("seed", 1, "seed; the same gives the same register")
	today := flag.String("today", time.Now().Format(time.DateOnly), "the day on which the register is kept")
	format := flag.String("format", "csv", "csv or xlsx")
	separator := flag.String("separator", ";", "between the cells of a csv: , ; or tab")
	encoding := flag.String("encoding", "windows-1252", "of a csv: utf-8, utf-8-bom, windows-1252 or utf-16")
	wants := flag.Bool("wants", false, "print what should become of each row instead")
	flag.Parse()

	day, err := time.Parse(time.DateOnly, *today)
	if err != nil {
		return err
	}
	s := sheet.Make(sheet.Settings{Rows: *rows, Seed: *seed, Today: day, Comma: *format == "csv" && *separator == ","})
	switch {
	case *wants:
		for _, w := range s.Wants {
			fmt.Println(w.Row, w.Verdict, w.Codes)
		}
		return nil
	case *format == "xlsx":
		return s.XLSX(os.Stdout)
	case *separator == "tab":
		*separator = "\t"
	}
	sep, _ := utf8.DecodeRuneInString(*separator)
	return s.CSV(os.Stdout, sep, *encoding)
}
