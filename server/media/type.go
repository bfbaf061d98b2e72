package media

import "bytes"

// typeOf is the media type of a file by its first bytes, "" for what we do
// not take. What a name or a header says is never asked. The marks are those
// of the formats' own specifications: JPEG (ISO/IEC 10918-1, B.1.1), PNG
// (W3C, 5.2), WebP (RFC 9649, 2.4), Ogg Opus (RFC 7845, 3), WebM and MP4 as
// voice.go has them.
func typeOf(b []byte) string {
	switch {
	case bytes.HasPrefix(b, []byte("\xff\xd8\xff")):
		return "image/jpeg"
	case bytes.HasPrefix(b, []byte("\x89PNG\r\n\x1a\n")):
		return "image/png"
	case len(b) >= 12 && string(b[:4]) == "RIFF" && string(b[8:12]) == "WEBP":
		return "image/webp"
	case bytes.HasPrefix(b, []byte("OggS")):
		return "audio/ogg"
	case bytes.HasPrefix(b, []byte("\x1a\x45\xdf\xa3")):
		return "audio/webm"
	case len(b) >= 12 && string(b[4:8]) == "ftyp":
		return "audio/mp4"
	}
	return ""
}
