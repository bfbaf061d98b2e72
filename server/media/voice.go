package media

import "bytes"

// cleanVoice checks that a file is a voice note that browsers make and play
// (Opus in Ogg or WebM, AAC in MP4), and blanks what it says beside the
// sound: tags may hold the place, a name, a picture. Nothing is moved, so the
// sound plays as it did.
func cleanVoice(raw []byte) ([]byte, string, error) {
	typ := typeOf(raw)
	b := bytes.Clone(raw)
	var ok bool
	switch typ {
	case "audio/ogg":
		ok = cleanOgg(b)
	case "audio/webm":
		ok = cleanWebM(b)
	case "audio/mp4":
		ok = cleanMP4(b)
	default:
		return nil, "", refusal("media-type", "This is no voice note that we can play. Send Opus (Ogg or WebM) or AAC (MP4).")
	}
	if !ok {
		return nil, "", unreadable()
	}
	return b, typ, nil
}

func blank(b []byte) {
	for i := range b {
		b[i] = 0
	}
}
