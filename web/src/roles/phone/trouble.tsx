import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { entries } from "../../offline/outbox";
import type { PageProps } from "../../shell/page-list";
import { TextArea } from "../../ui/field";
import { Trouble as WentWrong } from "../../ui/states";
import { cards, type FirstSteps } from "./data";
import { say } from "./entry";
import { Gate } from "./gate";
import { Attach } from "./media";
import type { View } from "./overlay";
import { BigButton, CallLinks, Listen, Row, Rows, useFields, useKeeping } from "./parts";
import { Picture } from "./pictures";
import { SignPicture } from "./signs";
import { phoneWords } from "./words";

/** Trouble shows the signs; pressing one reports it and says what to do first. */
export function Trouble() {
  const words = phoneWords().trouble;
  return <Gate title={words.title}>{(farm) => <Signs farm={farm} />}</Gate>;
}

/** cardsOf are the signs of what lives on a farm; one that two enterprises share stands once. */
export function cardsOf(farm: View, all: readonly FirstSteps[]): FirstSteps[] {
  const here = all.filter((c) => farm.units.some((u) => u.enterprise === c.enterprise));
  return here.filter((c, i) => here.findIndex((o) => o.sign === c.sign && o.text === c.text) === i);
}

function Signs({ farm }: { farm: View }) {
  const words = phoneWords().trouble;
  const { route } = useLocation();
  const { busy, error, keep } = useKeeping();
  const all = cardsOf(farm, cards.now().value?.items ?? []);
  const report = (card: FirstSteps) =>
    keep(
      () =>
        say({ farm, kind: "trouble", data: { sign: card.sign }, ...placeOf(farm, card), what: card.text }),
      (kept) => route(`${addressOf(card)}/${kept.id}`),
    );
  const press = (card: FirstSteps) => (
    <BigButton
      key={card.sign}
      busy={busy}
      picture={<SignPicture sign={card.sign} />}
      onClick={() => report(card)}
    >
      {card.text}
    </BigButton>
  );
  return (
    <>
      <p>{all.length > 0 ? words.ask : words.none}</p>
      {error !== null && <WentWrong error={error} />}
      <h2>{words.people}</h2>
      <div class="phone-signs phone-people">{all.filter((c) => c.danger).map(press)}</div>
      <CallLinks farm={farm} />
      <h2>{words.animals}</h2>
      <div class="phone-signs">{all.filter((c) => !c.danger).map(press)}</div>
      <Rows>
        <Row href="/today/trouble/words" picture={<Picture of="other" />} title={words.other} />
      </Rows>
    </>
  );
}

// Where one unit alone can be meant, the report names it; else the call does.
function placeOf(farm: View, card: FirstSteps): { unit?: string; cycle?: string } {
  const units = farm.units.filter((u) => u.enterprise === card.enterprise);
  const unit = units.length === 1 ? units[0] : undefined;
  return unit ? { unit: unit.id, ...(unit.cycle_id ? { cycle: unit.cycle_id } : {}) } : {};
}

function addressOf(card: FirstSteps): string {
  return `/today/sign/${card.enterprise}/${card.sign}`;
}

/** OtherTrouble takes a report in words. */
export function OtherTrouble() {
  const words = phoneWords().trouble;
  return (
    <Gate title={words.other} back="/today/trouble">
      {(farm) => <InWords farm={farm} />}
    </Gate>
  );
}

function InWords({ farm }: { farm: View }) {
  const { trouble: words, save } = phoneWords();
  const { route } = useLocation();
  const [note, setNote] = useState("");
  const { busy, error, keep } = useKeeping();
  const { box, needed, complete } = useFields();
  const [media, setMedia] = useState<string[]>([]);
  const text = note.trim();
  const empty = text === "" && media.length === 0;
  const data = { ...(text ? { note: text } : {}), ...(media.length > 0 ? { media } : {}) };
  const report = () =>
    complete(!empty) &&
    keep(
      () => say({ farm, kind: "trouble", data, what: text.slice(0, 100) || words.other }),
      () => route("/today/reports"),
    );
  return (
    <div ref={box}>
      {error !== null && <WentWrong error={error} />}
      <TextArea
        label={words.otherAsk}
        value={note}
        onValue={setNote}
        maxLength={1000}
        error={needed(empty)}
      />
      <Attach farm={farm.id} slot="trouble" voice onMedia={setMedia} />
      <BigButton kind="main" busy={busy} picture={<Picture of="sent" />} onClick={report}>
        {save}
      </BigButton>
      <CallLinks farm={farm} />
    </div>
  );
}

/** Sign is the first-steps card of a sign, and how far its report is where one was made. */
export function Sign({ params }: PageProps) {
  const card = cards
    .now()
    .value?.items.find((c) => c.sign === params.sign && c.enterprise === params.enterprise);
  return (
    <Gate title={card?.text ?? phoneWords().trouble.title} back={params.entry ? "/today" : "/today/cards"}>
      {(farm) =>
        card ? <Card farm={farm} card={card} entry={params.entry} /> : <CallLinks farm={farm} now />
      }
    </Gate>
  );
}

function Card({ farm, card, entry }: { farm: View; card: FirstSteps; entry: string | undefined }) {
  const words = phoneWords();
  const kept = entry ? entries.value.find((e) => e.id === entry) : undefined;
  return (
    <>
      <section class={card.danger ? "phone-card phone-danger" : "phone-card"}>
        <h2>
          <SignPicture sign={card.sign} /> {card.danger ? words.sign.people : words.sign.firstSteps}
        </h2>
        <p class="phone-first">{card.first_words}</p>
      </section>
      {kept && (
        <p class="phone-state" role="status">
          {kept.state === "sent" ? words.sign.sent : words.sign.notSent}
        </p>
      )}
      <CallLinks farm={farm} now={card.danger === true} about={card.text} />
      {kept && !card.danger && <Show farm={farm} card={card} about={kept.id} />}
      {card.caution && (
        <p class="phone-caution">
          <strong>{words.item.caution}:</strong> {card.caution}
        </p>
      )}
      <Listen text={`${card.first_words} ${card.caution ?? ""}`} />
    </>
  );
}

// What is shown goes onto the ticket of the report. Where a person is in danger nobody is asked for a picture.
function Show({ farm, card, about }: { farm: View; card: FirstSteps; about: string }) {
  const words = phoneWords().sign;
  const { busy, error, keep } = useKeeping();
  const [media, setMedia] = useState<string[]>([]);
  const [shown, setShown] = useState(false);
  const add = () =>
    keep(
      () =>
        say({
          farm,
          kind: "trouble",
          data: { sign: card.sign, about, media },
          ...placeOf(farm, card),
          what: card.text,
        }),
      () => setShown(true),
    );
  if (shown) return <p role="status">{words.shown}</p>;
  return (
    <section>
      <h2>{words.show}</h2>
      {error !== null && <WentWrong error={error} />}
      <Attach farm={farm.id} slot={`sign/${about}`} voice onMedia={setMedia} />
      {media.length > 0 && (
        <BigButton kind="main" busy={busy} picture={<Picture of="sent" />} onClick={add}>
          {words.add}
        </BigButton>
      )}
    </section>
  );
}

/** Cards are all first-steps cards, to read before anything happens. */
export function Cards() {
  const words = phoneWords();
  return (
    <Gate title={words.sign.cards}>
      {(farm) => (
        <Rows>
          {cardsOf(farm, cards.now().value?.items ?? []).map((card) => (
            <Row
              key={card.sign}
              kind={card.danger ? "danger" : "plain"}
              href={addressOf(card)}
              picture={<SignPicture sign={card.sign} />}
              title={card.text}
            />
          ))}
        </Rows>
      )}
    </Gate>
  );
}
