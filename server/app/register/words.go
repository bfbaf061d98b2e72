package register

import "tendfold/checklists"

// Code is the stable word of a problem.
type Code string

// What can be wrong with the file as a whole: told once, never refused.
const (
	ColumnUnknown  Code = "column-unknown"
	MeasureAssumed Code = "measure-assumed"
)

// What can be wrong with a cell.
const (
	CellRequired      Code = "cell-required"
	CellError         Code = "cell-error"
	TextTooLong       Code = "text-too-long"
	TwoValues         Code = "two-values"
	DateNone          Code = "date-none"
	DateShortYear     Code = "date-short-year"
	DateTooOld        Code = "date-too-old"
	DateFuture        Code = "date-future"
	NumberNone        Code = "number-none"
	NumberNotWhole    Code = "number-not-whole"
	NumberNotPositive Code = "number-not-positive"
	NumberNegative    Code = "number-negative"
	NumberTooLarge    Code = "number-too-large"
	LatitudeOff       Code = "latitude-off"
	LongitudeOff      Code = "longitude-off"
	PositionHalf      Code = "position-half"
	PositionZero      Code = "position-zero"
	EnterpriseUnknown Code = "enterprise-unknown"
	PurposeUnknown    Code = "purpose-unknown"
	WordUnknown       Code = "word-unknown"
	MeasureUnknown    Code = "measure-unknown"
	MeasureBlank      Code = "measure-blank"
	LanguageUnknown   Code = "language-unknown"
	StatusUnknown     Code = "status-unknown"
	PhoneInvalid      Code = "phone-invalid"
	PhoneSeveral      Code = "phone-several"
	CaretakerNameless Code = "caretaker-without-name"
)

// What can be wrong with a row against the register and the pack.
const (
	TooManyAnimals       Code = "too-many-animals"
	OtherEnterprise      Code = "unit-other-enterprise"
	BranchNotYours       Code = "branch-not-yours"
	BranchAssumed        Code = "branch-assumed"
	OverCapacity         Code = "over-capacity"
	OverDensity          Code = "over-density"
	StockedBeforeStarted Code = "stocked-before-started"
	HarvestBeforeStocked Code = "harvest-before-stocked"
	OddInterval          Code = "odd-interval"
	StartEstimated       Code = "start-estimated"
	CountWithoutDate     Code = "count-without-date"
	DateKept             Code = "date-kept"
	SaidOtherwise        Code = "said-otherwise"
	RowRepeated          Code = "row-repeated"
	DoublePhone          Code = "double-phone"
	DoubleNear           Code = "double-near"
	DoubleCaretaker      Code = "double-caretaker"
)

// said is what each code means to the person who reads the answer.
var said = map[Code]checklists.Text{
	ColumnUnknown: {
		EN: `The column "{value}" is not one that the register knows, so it was left out. If it should count, give it a name from the list of columns.`,
		FR: `La colonne « {value} » n'est pas connue du registre ; elle a été laissée de côté. Si elle doit compter, donnez-lui un nom de la liste des colonnes.`,
	},
	MeasureAssumed: {
		EN: `No column says whether lengths are feet or metres, so they were read as metres. Add length_unit with ft or m if that is wrong.`,
		FR: `Aucune colonne ne dit si les longueurs sont en pieds ou en mètres ; elles ont été lues en mètres. Ajoutez mesure avec pi ou m si c'est faux.`,
	},
	CellRequired: {
		EN: `This cell is empty and the row cannot do without it. Fill it in.`,
		FR: `Cette cellule est vide et la ligne ne peut s'en passer. Remplissez-la.`,
	},
	CellError: {
		EN: `The spreadsheet shows an error here ({value}). Put the formula right or type the value.`,
		FR: `Le tableur affiche ici une erreur ({value}). Corrigez la formule ou tapez la valeur.`,
	},
	TextTooLong: {
		EN: `This cell has {length} characters; {most} are allowed. Shorten it.`,
		FR: `Cette cellule a {length} caractères ; {most} sont permis. Raccourcissez-la.`,
	},
	TwoValues: {
		EN: `Two columns of this row mean the same and say "{kept}" and "{value}". The first was taken; empty the other one.`,
		FR: `Deux colonnes de cette ligne veulent dire la même chose et disent « {kept} » et « {value} ». La première a été prise ; videz l'autre.`,
	},
	DateNone: {
		EN: `"{value}" is not a date. Write it as 2026-03-12, 12/03/2026 (day first) or 12 Mar 2026.`,
		FR: `« {value} » n'est pas une date. Écrivez-la 2026-03-12, 12/03/2026 (jour d'abord) ou 12 mars 2026.`,
	},
	DateShortYear: {
		EN: `"{value}" has a year of two figures, which may be read in two ways. Write all four figures.`,
		FR: `« {value} » a une année à deux chiffres, qui peut se lire de deux façons. Écrivez les quatre chiffres.`,
	},
	DateTooOld: {
		EN: `{value} is before {first}. Check the year.`,
		FR: `{value} est avant le {first}. Vérifiez l'année.`,
	},
	DateFuture: {
		EN: `{value} is after today ({today}); the register takes only what has happened. Check the date, or leave the cell empty.`,
		FR: `{value} est après aujourd'hui ({today}) ; le registre ne prend que ce qui a eu lieu. Vérifiez la date, ou laissez la cellule vide.`,
	},
	NumberNone: {
		EN: `"{value}" is not a number. Write it as 12{mark}5, with nothing else in the cell.`,
		FR: `« {value} » n'est pas un nombre. Écrivez-le 12{mark}5, sans rien d'autre dans la cellule.`,
	},
	NumberNotWhole: {
		EN: `"{value}" is not a whole number. Write it without a point, a comma or a fraction.`,
		FR: `« {value} » n'est pas un nombre entier. Écrivez-le sans point, sans virgule et sans fraction.`,
	},
	NumberNotPositive: {
		EN: `"{value}" must be more than 0. Correct it, or leave the cell empty.`,
		FR: `« {value} » doit être plus grand que 0. Corrigez, ou laissez la cellule vide.`,
	},
	NumberNegative: {
		EN: `"{value}" must not be less than 0. Correct it, or leave the cell empty.`,
		FR: `« {value} » ne peut être plus petit que 0. Corrigez, ou laissez la cellule vide.`,
	},
	NumberTooLarge: {
		EN: `"{value}" is more than can be ({most}). Check the number and its measure.`,
		FR: `« {value} » dépasse ce qui est possible ({most}). Vérifiez le nombre et sa mesure.`,
	},
	LatitudeOff: {
		EN: `"{value}" is off the globe: a latitude lies between -90 and 90. Check whether latitude and longitude are swapped.`,
		FR: `« {value} » est hors du globe : une latitude va de -90 à 90. Vérifiez si latitude et longitude sont inversées.`,
	},
	LongitudeOff: {
		EN: `"{value}" is off the globe: a longitude lies between -180 and 180. Check the number.`,
		FR: `« {value} » est hors du globe : une longitude va de -180 à 180. Vérifiez le nombre.`,
	},
	PositionHalf: {
		EN: `Only one of latitude and longitude is given, so the position was left out. Give both.`,
		FR: `Une seule des deux valeurs, latitude et longitude, est donnée ; la position a été laissée de côté. Donnez les deux.`,
	},
	PositionZero: {
		EN: `Latitude 0, longitude 0 lies in the sea, so the position was left out. Leave both cells empty if it is not known.`,
		FR: `Latitude 0, longitude 0 est en mer ; la position a été laissée de côté. Laissez les deux cellules vides si elle n'est pas connue.`,
	},
	EnterpriseUnknown: {
		EN: `No pack is called "{value}". Known here: {known}.`,
		FR: `Aucun référentiel ne s'appelle « {value} ». Connus ici : {known}.`,
	},
	PurposeUnknown: {
		EN: `"{value}" is not a purpose of this enterprise; the row was taken as {kept}. Known here: {known}.`,
		FR: `« {value} » n'est pas un but de cette filière ; la ligne a été prise comme {kept}. Connus ici : {known}.`,
	},
	WordUnknown: {
		EN: `"{value}" is not a word that the pack knows here; it was kept as typed. Known: {known}.`,
		FR: `« {value} » n'est pas un mot que le référentiel connaît ici ; il a été gardé tel quel. Connus : {known}.`,
	},
	MeasureUnknown: {
		EN: `"{value}" is neither feet nor metres, so length and width were left out. Write ft or m.`,
		FR: `« {value} » n'est ni pieds ni mètres ; longueur et largeur ont été laissées de côté. Écrivez pi ou m.`,
	},
	MeasureBlank: {
		EN: `A length without a measure: it was read as metres. Write ft or m.`,
		FR: `Une longueur sans mesure : elle a été lue en mètres. Écrivez pi ou m.`,
	},
	LanguageUnknown: {
		EN: `"{value}" is not a language of the house and was left out. Write en or fr.`,
		FR: `« {value} » n'est pas une langue de la maison et a été laissé de côté. Écrivez en ou fr.`,
	},
	StatusUnknown: {
		EN: `"{value}" is not a status and was left out. Write active, paused or closed.`,
		FR: `« {value} » n'est pas un statut et a été laissé de côté. Écrivez actif, en pause ou fermé.`,
	},
	PhoneInvalid: {
		EN: `"{value}" cannot be a phone number; it was kept as typed. Write it with its country code, such as +237 and nine figures.`,
		FR: `« {value} » ne peut être un numéro de téléphone ; il a été gardé tel quel. Écrivez-le avec l'indicatif du pays, par exemple +237 et neuf chiffres.`,
	},
	PhoneSeveral: {
		EN: `"{value}" holds more than one number; only {kept} was kept. Put the other in a row of its own person.`,
		FR: `« {value} » contient plus d'un numéro ; seul {kept} a été gardé. Mettez l'autre sur la ligne de sa propre personne.`,
	},
	CaretakerNameless: {
		EN: `A caretaker's details are given without a name, so they were left out. Add the name.`,
		FR: `Des données du soigneur sont données sans nom ; elles ont été laissées de côté. Ajoutez le nom.`,
	},
	TooManyAnimals: {
		EN: `{count} animals on {area} m2 is more than can be: {most} a square metre is the bound. Check the count, and whether the sides are feet or metres.`,
		FR: `{count} animaux sur {area} m2, c'est plus qu'il n'est possible : {most} par mètre carré est la limite. Vérifiez le nombre, et si les côtés sont en pieds ou en mètres.`,
	},
	OtherEnterprise: {
		EN: `This unit runs a cycle of {known} in the register; the row says {value}. End that cycle first, or give the unit another name.`,
		FR: `Cette unité d'élevage suit un cycle de {known} dans le registre ; la ligne dit {value}. Terminez d'abord ce cycle, ou donnez un autre nom à l'unité.`,
	},
	BranchNotYours: {
		EN: `The branch {value} is not one of yours. Ask an administrator to import this row.`,
		FR: `L'agence {value} n'est pas une des vôtres. Demandez à un administrateur d'importer cette ligne.`,
	},
	BranchAssumed: {
		EN: `No branch is given; the farm was put in {kept}. Fill in the branch if that is wrong.`,
		FR: `Aucune agence n'est donnée ; la ferme a été mise dans {kept}. Remplissez l'agence si c'est faux.`,
	},
	OverCapacity: {
		EN: `{count} animals were stocked, and the unit is built for {most}. Check both numbers.`,
		FR: `{count} animaux ont été mis en charge, et l'unité est construite pour {most}. Vérifiez les deux nombres.`,
	},
	OverDensity: {
		EN: `{count} animals on {area} m2 is above the published density ({limit}, {source}). Check the numbers; if they are right, the unit is crowded.`,
		FR: `{count} animaux sur {area} m2 dépasse la densité publiée ({limit}, {source}). Vérifiez les nombres ; s'ils sont justes, l'unité est surpeuplée.`,
	},
	StockedBeforeStarted: {
		EN: `Stocked on {value}, before the start on {start}. One of the two dates is likely wrong.`,
		FR: `Mise en charge le {value}, avant le démarrage le {start}. L'une des deux dates est sans doute fausse.`,
	},
	HarvestBeforeStocked: {
		EN: `First harvest on {value}, before the stocking on {stocked}. One of the two dates is likely wrong.`,
		FR: `Première récolte le {value}, avant la mise en charge le {stocked}. L'une des deux dates est sans doute fausse.`,
	},
	OddInterval: {
		EN: `{days} days from {from} to {to} is unusual: {low} to {high} days are to be expected by the pack. Check the two dates.`,
		FR: `{days} jours de {from} à {to}, c'est inhabituel : le référentiel laisse attendre de {low} à {high} jours. Vérifiez les deux dates.`,
	},
	StartEstimated: {
		EN: `The day of the start is not given; {value} was reckoned back from {from} by the pack's usual durations. Fill it in if it is known.`,
		FR: `Le jour du démarrage n'est pas donné ; le {value} a été compté à rebours depuis le {from} avec les durées habituelles du référentiel. Remplissez-le s'il est connu.`,
	},
	CountWithoutDate: {
		EN: `{count} animals are given without the day of stocking. Fill in the day.`,
		FR: `{count} animaux sont donnés sans le jour de mise en charge. Remplissez le jour.`,
	},
	DateKept: {
		EN: `The register has {kept} for this, marked by a person; the sheet says {value}. {kept} was kept. Correct the sheet, or mark it again on the farm's page.`,
		FR: `Le registre a ici le {kept}, noté par une personne ; le tableau dit {value}. Le {kept} a été gardé. Corrigez le tableau, ou notez-le à nouveau sur la page de la ferme.`,
	},
	SaidOtherwise: {
		EN: `Row {first} says "{kept}" for the same {thing}; this row says "{value}". Row {first} was followed. Make the two agree.`,
		FR: `La ligne {first} dit « {kept} » pour la même chose ({thing}) ; cette ligne dit « {value} ». La ligne {first} a été suivie. Faites-les concorder.`,
	},
	RowRepeated: {
		EN: `Row {first} is about the same unit. Keep one of the two.`,
		FR: `La ligne {first} parle de la même unité d'élevage. Gardez l'une des deux.`,
	},
	DoublePhone: {
		EN: `{phone} already belongs to the client {kept}; this row calls the client {value}. It was put under {kept}. If they are two clients, give each a phone of its own.`,
		FR: `{phone} appartient déjà au client {kept} ; cette ligne nomme le client {value}. Elle a été mise sous {kept}. Si ce sont deux clients, donnez à chacun son numéro.`,
	},
	DoubleNear: {
		EN: `{value} ({client}) may be the same as {kept} ({kept_client}), {metres} m away. Both were kept; check whether it was entered twice.`,
		FR: `{value} ({client}) est peut-être la même que {kept} ({kept_client}), à {metres} m. Les deux ont été gardées ; vérifiez si elle a été saisie deux fois.`,
	},
	DoubleCaretaker: {
		EN: `{value} has the same phone as {kept}, and nearly the same name. Both were kept; check whether it is one person.`,
		FR: `{value} a le même téléphone que {kept}, et presque le même nom. Les deux ont été gardés ; vérifiez s'il s'agit d'une seule personne.`,
	},
}
