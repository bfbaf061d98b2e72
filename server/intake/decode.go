package intake

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// decode turns the bytes of a text file into text with plain line ends. A
// byte order mark decides; else text that is not UTF-8 is Windows-1252, in
// which older spreadsheet programs save.
func decode(data []byte) (string, error) {
	var from encoding.Encoding
	switch {
	case bytes.HasPrefix(data, []byte("\xEF\xBB\xBF")):
		data = data[3:]
	case bytes.HasPrefix(data, []byte("\xFF\xFE")), bytes.HasPrefix(data, []byte("\xFE\xFF")):
		from = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	}
	if from == nil && !utf8.Valid(data) {
		from = charmap.Windows1252
	}
	if from != nil {
		decoded, err := from.NewDecoder().Bytes(data)
		if err != nil {
			return "", notATable()
		}
		data = decoded
	}
	if bytes.IndexByte(data, 0) >= 0 {
		return "", notATable()
	}
	text := strings.ReplaceAll(string(data), "\r\n", "\n")
	return strings.ReplaceAll(text, "\r", "\n"), nil
}

func notATable() error {
	return malformed("file-not-a-table", "This is neither a CSV nor an XLSX file. Save the register as one of them and send that.")
}
