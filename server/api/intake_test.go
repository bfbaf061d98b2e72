package api_test

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"testing"

	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/register"
	"tendfold/server/housetest"
	"tendfold/server/intake"

	"github.com/stretchr/testify/require"
)

const registerText = "client;client_phone;farm;branch;unit;enterprise;started_on;status\n" +
	"Ada Mbah;+999633333333;Hill End;Buea;House 1;snail;2026-02-01;active\n" +
	"Ada Mbah;+999633333333;Hill End;Buea;House 2;snail;31/02/2026;active\n" +
	"Ben Tabi;+999644444444;Low End;Douala;Tank A;catfish;2026-02-02;paused\n"

// upload sends a register as a browser does.
func upload(t *testing.T, c *housetest.Client, file string, fields map[string]string) *housetest.Answer {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	part, err := form.CreateFormFile("file", "register.csv")
	require.NoError(t, err)
	_, err = part.Write([]byte(file))
	require.NoError(t, err)
	for name, value := range fields {
		require.NoError(t, form.WriteField(name, value))
	}
	require.NoError(t, form.Close())
	return c.Post("/api/intake", body.Bytes(), func(h http.Header) { h.Set("Content-Type", form.FormDataContentType()) })
}

func TestARegisterIsReadInTheBrowser(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		mo := h.As("mo")
		dry := housetest.Read[register.Answer](upload(t, mo, registerText, nil).OK())
		require.Equal(t, []int{3, 2, 1}, []int{dry.Rows, dry.New, dry.Refused})
		require.False(t, dry.Committed)
		require.Equal(t, dry.New, housetest.Read[register.Answer](upload(t, mo, registerText, nil).OK()).New, "a dry run writes nothing")

		french := housetest.Read[register.Answer](upload(t, mo, registerText, map[string]string{"language": "fr", "commit": "true", "watch": "true"}).OK())
		require.True(t, french.Committed)
		texts := ""
		for _, p := range french.Problems {
			texts += p.Text
		}
		require.Contains(t, texts, "n'est pas une date")
		again := housetest.Read[register.Answer](upload(t, mo, registerText, map[string]string{"commit": "true"}).OK())
		require.Equal(t, []int{0, 2, 1}, []int{again.New, again.Same, again.Refused})

		h.Sweep()
		type lines struct {
			Items []struct{ Name, Standing string } `json:"items"`
		}
		paused := housetest.Read[lines](mo.Get("/api/farms?standing=paused").OK())
		require.Len(t, paused.Items, 1)
		require.Equal(t, "Low End", paused.Items[0].Name)
	})
}

func TestWhoMayReadARegister(t *testing.T) {
	h := housetest.Lite(t)
	upload(t, h.Stranger(), registerText, nil).Is(401, "not-signed-in")
	for _, person := range []string{"ana", "fie", "care", "own"} {
		require.Equal(t, http.StatusForbidden, upload(t, h.As(person), registerText, nil).Status, person)
	}
	own := housetest.Read[register.Answer](upload(t, h.As("bm"), registerText, nil).OK())
	require.Equal(t, 2, own.Refused, "a manager of one branch writes to no other")
	upload(t, h.As("mo"), "nothing to see", nil).Is(422, "header-missing")
	upload(t, h.As("mo"), registerText, map[string]string{"country": "Mars"}).Is(422, "country-unknown")
}

// What an import found out is offered by the first-run page.
func TestTheFirstRunOffersTheZoneOfAnImport(t *testing.T) {
	h := housetest.Open(t, t.TempDir())
	zone := func() string {
		return housetest.Read[struct {
			Zone string `json:"time_zone"`
		}](h.Stranger().Get("/api/firm").OK()).Zone
	}
	require.Equal(t, "UTC", zone())
	table, err := intake.Read(bytes.NewReader([]byte(registerText)))
	require.NoError(t, err)
	_, err = h.Imports.Run(t.Context(), app.System, register.Import{Sheet: table, Commit: true, Branch: farm.Branch{Zone: "Africa/Douala"}})
	require.NoError(t, err)
	require.Equal(t, "Africa/Douala", zone())
}
