package intake

import (
	"strings"
	"sync"
	"testing"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app/register"

	"github.com/stretchr/testify/require"
)

var today = calendar.MustDate("2026-11-25")

var shipped = sync.OnceValues(checklists.Embedded)

// reading is what the packs that ship know, on a day, in Cameroon.
func reading(t require.TestingT) register.Reading {
	set, err := shipped()
	require.NoError(t, err)
	r := register.Reading{Today: today, Zone: "Africa/Douala", Country: func(branch string) string {
		return map[string]string{"Accra": "GH"}[branch]
	}}
	for _, name := range set.Enterprises() {
		p, _ := set.Pack(name)
		r.Packs = append(r.Packs, p)
	}
	return r
}

// typed is the only row of a register with these columns beside the four
// required ones.
func typed(t *testing.T, columns, cells string) (register.Row, []register.Problem) {
	t.Helper()
	text := "client;farm;unit;enterprise;" + columns + "\nMbah Ada;Hill farm;1;snail;" + cells + "\n"
	rows, problems := read(t, []byte(text)).Rows(reading(t))
	require.Len(t, rows, 1)
	return rows[0], problems
}

func codes(problems []register.Problem) []string {
	out := []string{}
	for _, p := range problems {
		out = append(out, string(p.Column)+" "+string(p.Severity)+" "+string(p.Code))
	}
	return out
}

func TestARowInEnglish(t *testing.T) {
	const text = "Client,Client Phone,FARM,town,landmark,latitude,longitude,branch,unit,enterprise,purpose,species,length,width,length unit,capacity,build standard,wall base,cover,double door,drain,lined,paths,feed platforms,water,tank litres,pump hp,handed over on,planted on,stocked on,stocked count,mean weight g,first harvest on,last visit on,caretaker,caretaker phone,trained on,language,status\n" +
		`Mbah Ada,+237 677 12 34 56,Hill farm,Buea,Behind the market,4.15,9.24,Buea,House 1,snail,breeding,Tiger snail,40,12.5,ft,"1,200",Revision 3,block,shade net,yes,no,y,n,x,borehole,"2,000",1.5,2026-01-10,12/02/2026,12 Apr 2026,900,35.5,,2026-11-20,Ana Ngole,677 22 33 44,2026-03-01,French,active` + "\n"
	rows, problems := read(t, []byte(text)).Rows(reading(t))
	require.Empty(t, problems)
	require.Equal(t, register.Row{
		Number: 2, Client: "Mbah Ada", ClientPhone: register.Phone{Text: "+237677123456"}, Farm: "Hill farm", Town: "Buea", Landmark: "Behind the market",
		Position: farm.Position{Lat: 4.15, Lng: 9.24, Known: true}, Branch: "Buea", Unit: "House 1", Enterprise: "snail",
		Purpose: programme.Breeding, Species: "achatina-achatina",
		Build: farm.BuildSheet{
			Length: farm.Length{Value: 40, Measure: "ft"}, Width: farm.Length{Value: 12.5, Measure: "ft"}, Capacity: 1200, Standard: "Revision 3",
			WallBase: "concrete-block", Cover: "shade-cloth", DoubleDoor: farm.Yes, Drain: farm.No, Lined: farm.Yes, Paths: farm.No, FeedPlatforms: farm.Yes,
			Water: "borehole", TankLitres: 2000, Pump: farm.Power{Value: 1.5, Measure: "hp"}, HandedOverOn: calendar.MustDate("2026-01-10"),
		},
		StartedOn: calendar.MustDate("2026-02-12"), StockedOn: calendar.MustDate("2026-04-12"), StockedCount: 900, MeanWeightG: 35.5,
		LastVisitOn: calendar.MustDate("2026-11-20"), Caretaker: "Ana Ngole", CaretakerPhone: register.Phone{Text: "+237677223344"},
		TrainedOn: calendar.MustDate("2026-03-01"), Language: "fr", Status: farm.Active,
	}, rows[0])
}

func TestARowInFrench(t *testing.T) {
	const text = "Client;Téléphone client;Ferme;Ville;Repère;Latitude;Longitude;Agence;Unité;Filière;But;Espèce;Longueur;Largeur;Mesure;Capacité;Norme;Soubassement;Couverture;Double porte;Drain;Murs revêtus;Allées;Plateaux aliment;Eau;Réservoir litres;Pompe ch;Réceptionné le;Démarré le;Mis en charge le;Nombre mis en charge;Poids moyen g;Première récolte le;Dernière visite le;Soigneur;Téléphone soigneur;Formé le;Langue;Statut\n" +
		"Ébongué;677123456;L'Étoile;Douala;Carrefour;4,05;9,77;Douala;Bac 2;Silure;Grossissement;poisson-chat;12,5;4;pi;1 200;Rév. 3;bâche;filet;oui;non;o;n;vrai;forage et pompe;2 000;2;10/01/2026;12 févr. 2026;12 mai 2026;900;8,5;20/11/2026;;Jean;677223344;1er mars 2026;anglais;en pause\n"
	rows, problems := read(t, []byte(text)).Rows(reading(t))
	require.Empty(t, problems)
	r := rows[0]
	require.Equal(t, "catfish", r.Enterprise)
	require.Equal(t, "clarias-gariepinus", r.Species)
	require.Equal(t, programme.GrowOut, r.Purpose)
	require.Equal(t, "L'Étoile", r.Farm)
	require.Equal(t, register.Phone{Text: "+237677123456"}, r.ClientPhone)
	require.Equal(t, farm.Position{Lat: 4.05, Lng: 9.77, Known: true}, r.Position)
	require.Equal(t, farm.Length{Value: 12.5, Measure: "ft"}, r.Build.Length)
	require.Equal(t, 1200, r.Build.Capacity)
	require.Equal(t, "liner-on-frame", r.Build.WallBase)
	require.Equal(t, farm.Yes, r.Build.FeedPlatforms)
	require.Equal(t, "borehole, pump", r.Build.Water)
	require.Equal(t, farm.Power{Value: 2, Measure: "ch"}, r.Build.Pump)
	require.Equal(t, "2026-02-12", r.StartedOn.String())
	require.Equal(t, "2026-05-12", r.StockedOn.String())
	require.Equal(t, "2026-11-20", r.FirstHarvestOn.String())
	require.Equal(t, 8.5, r.MeanWeightG)
	require.Equal(t, "2026-03-01", r.TrainedOn.String())
	require.Equal(t, "en", r.Language)
	require.Equal(t, farm.Paused, r.Status)
}

func TestBlankCellsSayNothing(t *testing.T) {
	r, problems := typed(t, "town;planted_on;capacity;double_door;client_phone;language", "-;n/a;?;—; ;")
	require.Empty(t, problems)
	require.Equal(t, register.Row{Number: 2, Client: "Mbah Ada", Farm: "Hill farm", Unit: "1", Enterprise: "snail"}, r)
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct{ columns, cells, want string }{
		{"planted_on", "31/02/2026", "planted_on refused date-none"},
		{"planted_on", "12/03/26", "planted_on refused date-short-year"},
		{"stocked_on", "26/11/2026", "stocked_on refused date-future"},
		{"first_harvest_on", "12 mars 2062", "first_harvest_on refused date-future"},
		{"trained_on", "1926-03-12", "trained_on refused date-too-old"},
		{"length", "abc", "length refused number-none"},
		{"length", "0", "length refused number-not-positive"},
		{"width", "-3", "width refused number-not-positive"},
		{"width", "3 miles", "width refused number-none"},
		{"length", "1e999", "length refused number-none"},
		{"length", "NaN", "length refused number-none"},
		{"length", "20000", "length refused number-too-large"},
		{"capacity", "0", "capacity refused number-not-positive"},
		{"capacity", "12,5", "capacity refused number-not-whole"},
		{"capacity", "1.000", "capacity refused number-not-whole"},
		{"stocked_count", "-1", "stocked_count refused number-negative"},
		{"stocked_count", "many", "stocked_count refused number-none"},
		{"mean_weight_g", "0", "mean_weight_g refused number-not-positive"},
		{"tank_litres", "-1", "tank_litres refused number-negative"},
		{"pump_hp", "2 horses", "pump_hp refused number-none"},
		{"latitude;longitude", "91;9", "latitude refused latitude-off"},
		{"latitude;longitude", "4;181", "longitude refused longitude-off"},
		{"latitude;longitude", "north;9", "latitude refused number-none"},
		{"town", strings.Repeat("é", maxNameLength+1), "town refused text-too-long"},
		{"town", "#REF!", "town refused cell-error"},
		{"planted_on", "#N/A", "planted_on refused cell-error"},
	} {
		r, problems := typed(t, c.columns+";length_unit", c.cells+";m")
		require.True(t, r.Refused, c)
		require.Equal(t, []string{c.want}, codes(problems), c)
	}
}

func TestRequiredCells(t *testing.T) {
	rows, problems := read(t, []byte("client,farm,unit,enterprise,town\n,f,u,snail,x\nA,,u,snail,x\nA,f,,snail,x\nA,f,u,,x\nA,f,u,llama,x\n")).Rows(reading(t))
	require.Equal(t, []string{
		"client refused cell-required", "farm refused cell-required", "unit refused cell-required",
		"enterprise refused cell-required", "enterprise refused enterprise-unknown",
	}, codes(problems))
	for _, r := range rows {
		require.True(t, r.Refused)
	}
	require.Contains(t, problems[4].Text("en"), "Catfish, Snails")
	require.Contains(t, problems[4].Text("fr"), "Escargots, Silures")
}

func TestFlagsAreKeptAndWritten(t *testing.T) {
	for _, c := range []struct{ columns, cells, want string }{
		{"wall_base", "old tyres", "wall_base flag word-unknown"},
		{"species", "garden snail", "species flag word-unknown"},
		{"drain", "half", "drain flag word-unknown"},
		{"water", "truck", "water flag word-unknown"},
		{"language", "Ewondo", "language flag language-unknown"},
		{"status", "asleep", "status flag status-unknown"},
		{"client_phone", "67712", "client_phone flag phone-invalid"},
		{"caretaker_phone", "677123456", "caretaker flag caretaker-without-name"},
		{"latitude;longitude", "4,05;", "latitude flag position-half"},
		{"latitude;longitude", "0;0", "latitude flag position-zero"},
		{"length;length_unit", "30;", "length_unit flag measure-blank"},
		{"length;length_unit", "30;yards", "length_unit flag measure-unknown"},
		{"length", "30", "length_unit flag measure-assumed"},
		{"notes", "good people", "notes flag column-unknown"},
		{"planted_on;started_on", "2026-03-01;2026-03-02", "planted_on flag two-values"},
		{"client_phone", "677 12 34 56 / 699 11 22 33", "client_phone flag phone-several"},
	} {
		r, problems := typed(t, c.columns, c.cells)
		require.False(t, r.Refused, c)
		require.Equal(t, []string{c.want}, codes(problems), c)
	}
	r, _ := typed(t, "wall_base;drain;water;client_phone", "old tyres;half;truck;67712")
	require.Equal(t, "old tyres", r.Build.WallBase)
	require.Equal(t, farm.Answer("half"), r.Build.Drain)
	require.Equal(t, "truck", r.Build.Water)
	require.Equal(t, register.Phone{Text: "67712", Flag: true}, r.ClientPhone)
	r, _ = typed(t, "length;width;length_unit", "30;10;yards")
	require.Zero(t, r.Build.Length)
	r, _ = typed(t, "length;width;length_unit", "30 pi;4 m;")
	require.Equal(t, [2]farm.Length{{Value: 30, Measure: "ft"}, {Value: 4, Measure: "m"}}, [2]farm.Length{r.Build.Length, r.Build.Width})
}

func TestColumnsThatMeanNothingAreToldOnce(t *testing.T) {
	table := read(t, []byte("client,farm,unit,enterprise,notes,,\nA,f,u,snail,x,stray,\nB,f,u,snail,y,,\n"))
	_, problems := table.Rows(reading(t))
	require.Equal(t, []string{"notes flag column-unknown", "F flag column-unknown"}, codes(problems))
	require.Equal(t, 1, problems[0].Row)
}

func TestEveryProblemOfARowIsTold(t *testing.T) {
	_, problems := typed(t, "planted_on;capacity;latitude;longitude;status", "soon;x;100;200;asleep")
	require.Len(t, problems, 5)
}

func TestPositions(t *testing.T) {
	for in, want := range map[string]float64{"4,05": 4.05, "4.05° N": 4.05, "4.05N": 4.05, "4,05 S": -4.05, "-4.05": -4.05} {
		r, problems := typed(t, "latitude;longitude", in+";9,7 O")
		require.Empty(t, problems, in)
		require.Equal(t, farm.Position{Lat: want, Lng: -9.7, Known: true}, r.Position)
	}
}

func TestPowers(t *testing.T) {
	for _, c := range []struct {
		column, cell string
		want         farm.Power
	}{
		{"pump_hp", "1,5", farm.Power{Value: 1.5, Measure: "hp"}},
		{"pompe_ch", "2", farm.Power{Value: 2, Measure: "ch"}},
		{"pompe_cv", "2", farm.Power{Value: 2, Measure: "ch"}},
		{"pump_kw", "0,75", farm.Power{Value: 0.75, Measure: "kW"}},
		{"pump_hp", "1.1 kW", farm.Power{Value: 1.1, Measure: "kW"}},
		{"pump_hp", "3 cv", farm.Power{Value: 3, Measure: "ch"}},
		{"pump_hp", "0", farm.Power{}},
	} {
		r, problems := typed(t, c.column, c.cell)
		require.Empty(t, problems, c)
		require.Equal(t, c.want, r.Build.Pump, c)
	}
}
