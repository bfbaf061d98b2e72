package app

import (
	"errors"
	"fmt"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
)

// reachWords are what the house itself says in messages. They stay within the
// short alphabet of text messages; Plain takes care of the rest.
type reachWords struct {
	got, gotDanger, onto, unknown, which, stopped, started string
	today, tomorrow, onDay                                 string
	digest                                                 string
	given, reopened, danger, outbreak, complaint           string
}

var reachEN = reachWords{
	got:       "%s: received, your report %s. We answer %s.",
	gotDanger: "%s: received, your report %s. Somebody calls you at once.",
	onto:      "%s: received, added to your report %s.",
	unknown:   "%s: we do not know this number. Somebody will call you back. Text us your name and your farm.",
	which:     "%s: which farm is this about? Reply with its name: %s.",
	stopped:   "%s: you get no more texts from us. To get them again, send START. In danger, text or call us all the same.",
	started:   "%s: you get texts from us again. To end them, send STOP.",
	today:     "by %s today",
	tomorrow:  "by %s tomorrow",
	onDay:     "by %s on %s",
	digest:    "%d messages:",
	given:     "Ticket %s is in your hands now: %s, %s.",
	reopened:  "Ticket %s is open again: %s, %s.",
	danger:    "A person may be in danger: ticket %s, %s, %s.",
	outbreak:  "%s: seen on %d farms near each other (%s) since %s, more than chance. Look at them together.",
}

var reachFR = reachWords{
	got:       "%s : bien reçu, votre signalement %s. Nous répondons %s.",
	gotDanger: "%s : bien reçu, votre signalement %s. Quelqu'un vous appelle tout de suite.",
	onto:      "%s : bien reçu, ajouté à votre signalement %s.",
	unknown:   "%s : nous ne connaissons pas ce numéro. Quelqu'un vous rappelle. Envoyez votre nom et celui de la ferme.",
	which:     "%s : de quelle ferme s'agit-il ? Répondez par son nom : %s.",
	stopped:   "%s : vous ne recevrez plus nos messages. Pour les reprendre, envoyez REPRISE. En cas de danger, écrivez ou appelez quand même.",
	started:   "%s : vous recevez de nouveau nos messages. Pour arrêter, envoyez ARRET.",
	today:     "avant %s aujourd'hui",
	tomorrow:  "avant %s demain",
	onDay:     "avant %s le %s",
	digest:    "%d messages :",
	given:     "Le dossier %s est entre vos mains : %s, %s.",
	reopened:  "Le dossier %s est rouvert : %s, %s.",
	danger:    "Une personne est peut-être en danger : dossier %s, %s, %s.",
	outbreak:  "%s : vu sur %d fermes voisines (%s) depuis le %s, plus que le hasard. Regardez-les ensemble.",
}

func wordsOf(language string) reachWords {
	if language == "fr" {
		return reachFR
	}
	return reachEN
}

// by says until when, on the clock and by the day of the farm.
func (w reachWords) by(at, now time.Time, zone *time.Location) string {
	local := at.In(zone)
	clock := local.Format("15:04")
	switch calendar.FromTime(local).Sub(calendar.FromTime(now.In(zone))) {
	case 0:
		return fmt.Sprintf(w.today, clock)
	case 1:
		return fmt.Sprintf(w.tomorrow, clock)
	}
	return fmt.Sprintf(w.onDay, clock, local.Format("02/01"))
}

// textOf is what an error of ours says to people.
func textOf(err error) string {
	if e, ok := errors.AsType[*domain.Error](err); ok {
		return e.Text
	}
	return ""
}
