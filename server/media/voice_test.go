package media

import (
	"bytes"
	"encoding/binary"
	"os"
	"testing"

	"tendfold/domain"

	"github.com/stretchr/testify/require"
)

// RFC 3533 has the polynomial of CRC-32/CKSUM, whose check value for
// "123456789" is 0x765e7680 (catalogue of parametrised CRC algorithms) and
// which turns every bit over at the end.
func TestOggChecksum(t *testing.T) {
	require.Equal(t, ^uint32(0x765e7680), oggCRC([]byte("123456789")))
}

func TestAVoiceNoteLosesItsPlaceAndKeepsItsSound(t *testing.T) {
	for typ, raw := range map[string][]byte{"audio/ogg": ogg(), "audio/webm": webm("A_OPUS"), "audio/mp4": mp4("soun", "mp4a")} {
		require.Contains(t, string(raw), string(placeOf), typ)
		clean, got, err := cleanVoice(raw)
		require.NoError(t, err, typ)
		require.Equal(t, typ, got)
		require.NotContains(t, string(clean), string(placeOf), typ)
		require.Len(t, clean, len(raw), typ)
		require.Equal(t, raw[len(raw)-100:], clean[len(clean)-100:], typ)
		again, _, err := cleanVoice(clean)
		require.NoError(t, err, typ)
		require.Equal(t, clean, again, "%s: clean stays clean", typ)
	}
}

func TestTheCommentsPageHoldsItsNewSum(t *testing.T) {
	clean, _, err := cleanVoice(ogg())
	require.NoError(t, err)
	_, rest, ok := nextPage(clean)
	require.True(t, ok)
	tags, _, ok := nextPage(rest)
	require.True(t, ok)
	told := binary.LittleEndian.Uint32(tags.whole[22:])
	blank(tags.whole[22:26])
	require.Equal(t, oggCRC(tags.whole), told)
}

// voice.webm was recorded by Chromium's own recorder from its test sound.
func TestWhatABrowserRecordsIsTaken(t *testing.T) {
	raw, err := os.ReadFile("testdata/voice.webm")
	require.NoError(t, err)
	clean, typ, err := cleanVoice(raw)
	require.NoError(t, err)
	require.Equal(t, "audio/webm", typ)
	require.Equal(t, raw, clean, "it tells nothing but the sound")
}

func TestWhatIsNoVoiceNoteIsRefused(t *testing.T) {
	whole := ogg()
	for name, c := range map[string]struct {
		raw  []byte
		code string
	}{
		"nothing":                {nil, "media-type"},
		"a photo":                {jpegOf(t, picture(4, 4)), "media-type"},
		"another codec":          {bytes.Replace(whole, []byte("OpusHead"), []byte("Speex   "), 1), "media-unreadable"},
		"half an Ogg":            {whole[:len(whole)-50], "media-unreadable"},
		"a film":                 {webm("V_VP8"), "media-unreadable"},
		"a film with sound":      {webm("A_OPUS V_VP9"), "media-unreadable"},
		"WebM cut in its head":   {webm("A_OPUS")[:6], "media-unreadable"},
		"an MP4 film":            {mp4("vide", "mp4a"), "media-unreadable"},
		"an MP4 without AAC":     {mp4("soun", "alac"), "media-unreadable"},
		"an MP4 cut in a box":    {mp4("soun", "mp4a")[:40], "media-unreadable"},
		"a box of no length":     {append(boxOf("ftyp", []byte("M4A ")), 0, 0, 0, 4, 'm', 'o', 'o', 'v'), "media-unreadable"},
		"boxes without a bottom": {append(boxOf("ftyp", []byte("M4A ")), deep(mostDeep+2)...), "media-unreadable"},
	} {
		_, _, err := cleanVoice(c.raw)
		require.Equal(t, c.code, domain.CodeOf(err), name)
	}
}

func deep(n int) []byte {
	if n == 0 {
		return boxOf("stsd", []byte("mp4a"))
	}
	return boxOf("moov", deep(n-1))
}

func FuzzVoice(f *testing.F) {
	f.Add(ogg())
	f.Add(webm("A_OPUS"))
	f.Add(mp4("soun", "mp4a"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		before := bytes.Clone(raw)
		clean, typ, err := cleanVoice(raw)
		require.Equal(t, before, raw, "what came in is left alone")
		if err != nil {
			require.Equal(t, domain.KindInvalid, domain.KindOf(err))
			return
		}
		require.NotEmpty(t, typ)
		require.Len(t, clean, len(raw))
		again, _, err := cleanVoice(clean)
		require.NoError(t, err)
		require.Equal(t, clean, again)
	})
}
