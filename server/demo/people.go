package demo

import (
	"fmt"

	"tendfold/domain/farm"
)

// Branches, staff and names: all invented. The numbers are of no operator:
// +237 600 is assigned to none.

func branches() []farm.Branch {
	return []farm.Branch{
		branch("buea", "Buea", 4.155, 9.243, "Molyko yard"),
		branch("douala", "Douala", 4.061, 9.742, "Bonaberi yard"),
		branch("bamenda", "Bamenda", 5.963, 10.159, "Nkwen yard"),
	}
}

func branch(id, name string, lat, lng float64, yard string) farm.Branch {
	b := farm.Branch{ID: id, Name: name, Zone: zoneName, Country: "CM", Start: farm.Position{Lat: lat, Lng: lng, Known: true}, StartAt: yard, Version: 1}
	for day := 1; day <= 5; day++ {
		b.Hours[day] = farm.Span{From: 7*60 + 30, To: 16*60 + 30}
	}
	b.Hours[6] = farm.Span{From: 8 * 60, To: 12 * 60}
	return b
}

// staff are twelve: an administrator, two managers, four advisors, five field
// officers.
func staff() []farm.Person {
	one := func(n int, name, login, lang string, role farm.Role, branch string) farm.Person {
		return farm.Person{
			ID: "staff-" + login, Name: name, Email: login + "@palmwalk.example", Phone: fmt.Sprintf("+2376000000%02d", n),
			Language: lang, Active: true, Grants: []farm.Grant{{Role: role, BranchID: branch}}, Version: 1,
		}
	}
	return []farm.Person{
		one(1, "Prisca Ndumbe", "prisca", "en", farm.Administrator, ""),
		one(2, "Achille Mbarga", "achille", "fr", farm.Manager, ""),
		one(3, "Grace Tamfu", "grace", "en", farm.Manager, "bamenda"),
		one(4, "Ana Ekema", "ana", "en", farm.Advisor, "buea"),
		one(5, "Joel Fotso", "joel", "fr", farm.Advisor, "douala"),
		one(6, "Mercy Achu", "mercy", "en", farm.Advisor, "bamenda"),
		one(7, "Blaise Etoundi", "blaise", "fr", farm.Advisor, "douala"),
		one(8, "Peter Ngale", "peter", "en", farm.FieldOfficer, "buea"),
		one(9, "Sandrine Moukouri", "sandrine", "fr", farm.FieldOfficer, "douala"),
		one(10, "Emmanuel Che", "emmanuel", "en", farm.FieldOfficer, "bamenda"),
		one(11, "Lydie Kamga", "lydie", "fr", farm.FieldOfficer, "douala"),
		one(12, "Divine Asong", "divine", "en", farm.FieldOfficer, "buea"),
	}
}

var (
	firstNames = []string{
		"Abel", "Agnes", "Alvine", "Bertrand", "Brenda", "Carole", "Clovis", "Delphine", "Denis", "Edith", "Elvis", "Estelle", "Fabrice", "Felicity",
		"Gaston", "Gladys", "Henri", "Hortense", "Ivo", "Jacqueline", "Jude", "Kenneth", "Lilian", "Loveline", "Marius", "Mirabel", "Nadege", "Norbert",
		"Odette", "Pascal", "Patience", "Quinta", "Raphael", "Rosine", "Serge", "Solange", "Theodore", "Ursule", "Valery", "Yvonne",
	}
	lastNames = []string{
		"Abanda", "Agbor", "Atem", "Bekolo", "Chia", "Djoumessi", "Ebai", "Edimo", "Enow", "Fokou", "Fonka", "Kemajou", "Kouam", "Lobe", "Mbah",
		"Mokube", "Nana", "Ndip", "Ngassa", "Njie", "Nkwain", "Ojong", "Penda", "Sama", "Tabi", "Tchoua", "Tiku", "Wamba", "Yuh", "Zambo",
	}
	farmWords = []string{
		"Green Gate", "Palm Terrace", "Old Mill", "Red Earth", "Three Springs", "Upper Bridge", "Cocoa Lane", "Stone Well", "Mango Corner", "Rain Tree",
		"Les Palmiers", "La Colline", "Bord du Mungo", "Clair Matin", "Petit Marché", "Route Neuve", "La Source", "Belle Vue", "Fleur de Café", "Grand Fromager",
	}
	standards = []string{"Revision 1", "Revision 2", "Revision 3"}
)

// showFarm is the farm whose caretaker and owner get a link.
const showFarm = "Green Gate farm"

// town is where farms of a branch are; a spread of a few kilometres is laid
// over its position.
type town struct {
	name     string
	lat, lng float64
}

var towns = map[string][]town{
	"buea":    {{"Buea", 4.155, 9.243}, {"Mutengene", 4.098, 9.314}, {"Tiko", 4.078, 9.360}, {"Limbe", 4.023, 9.206}, {"Muyuka", 4.290, 9.411}, {"Kumba", 4.636, 9.446}},
	"douala":  {{"Douala", 4.061, 9.742}, {"Dibombari", 4.179, 9.656}, {"Mbanga", 4.502, 9.567}, {"Loum", 4.718, 9.735}, {"Edea", 3.799, 10.134}, {"Nkongsamba", 4.955, 9.937}},
	"bamenda": {{"Bamenda", 5.963, 10.159}, {"Bambili", 5.991, 10.252}, {"Santa", 5.795, 10.148}, {"Bali", 5.886, 10.010}, {"Mbouda", 5.626, 10.254}},
}
