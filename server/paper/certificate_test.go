package paper_test

import (
	"bytes"
	"compress/zlib"
	"io"
	"regexp"
	"testing"

	"tendfold/domain/calendar"
	"tendfold/server/app"
	"tendfold/server/paper"

	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding/charmap"
)

var streams = regexp.MustCompile(`(?s)stream\r?\n(.*?)\r?\nendstream`)

// textOf is what the pages of a PDF draw, unpacked.
func textOf(t *testing.T, pdf []byte) string {
	t.Helper()
	var out bytes.Buffer
	for _, m := range streams.FindAllSubmatch(pdf, -1) {
		z, err := zlib.NewReader(bytes.NewReader(m[1]))
		require.NoError(t, err)
		_, err = io.Copy(&out, z)
		require.NoError(t, err)
	}
	text, err := charmap.Windows1252.NewDecoder().String(out.String())
	require.NoError(t, err)
	return text
}

func TestACertificateSaysWhatItMust(t *testing.T) {
	c := paper.Certificate{
		CertificatePage: app.CertificatePage{
			Code: "ABCD-EFGH-JKMN-PQRS", Name: "Carine Œuvré", IssuedOn: calendar.MustDate("2026-03-12"),
			Modules: []app.CertificateLine{{Name: "Œufs et naissains", PassedOn: calendar.MustDate("2026-02-01"), Until: calendar.MustDate("2027-02-01"), Valid: true}},
		},
		Firm: "Palmwalk Farm Builders", Language: "fr", CheckAt: "https://example.test/certificates/ABCD-EFGH-JKMN-PQRS",
	}
	pdf, err := c.PDF()
	require.NoError(t, err)
	require.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")))
	require.Contains(t, string(pdf), "419.53 595.28", "A5 in points")
	text := textOf(t, pdf)
	for _, want := range []string{"Attestation de formation", "Carine Œuvré", "Œufs et naissains", "1er févr. 2026", "1er févr. 2027", "Palmwalk Farm Builders", "ABCD-EFGH-JKMN-PQRS", "12 mars 2026", "https://example.test/certificates/"} {
		require.Contains(t, text, want)
	}
	again, err := c.PDF()
	require.NoError(t, err)
	require.Equal(t, pdf, again, "the same paper has the same bytes")

	c.Language = "en"
	pdf, err = c.PDF()
	require.NoError(t, err)
	require.Contains(t, textOf(t, pdf), "Certificate of training")
}
