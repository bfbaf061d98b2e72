import { useState } from "preact/hooks";
import type { components } from "../../../api/api.gen";
import { api } from "../../../api/client";
import { explain } from "../../../api/explain";
import { useRead } from "../../../api/read";
import { person } from "../../../api/session";
import { enterpriseName, said } from "../../../farm/packs";
import { isoOf, today } from "../../../time/day";
import { Button } from "../../../ui/button";
import { DateField } from "../../../ui/date-field";
import { CheckField, TextField } from "../../../ui/field";
import { Shown } from "../../../ui/shown";
import { toast } from "../../../ui/toast";
import { curly } from "../call/card/cards";
import { DeskPage } from "../desk-page";
import { deskWords } from "../words";
import { bringReview } from "./export";

type Status = components["schemas"]["CardStatus"];

/** Review is the list of triage cards at the desk. */
export function Review() {
  return (
    <DeskPage title={deskWords().review.title}>
      <CardReviews />
    </DeskPage>
  );
}

/** CardReviews lists the triage cards with what no veterinarian has checked yet, and who signed what. Managers note signatures. */
export function CardReviews() {
  const words = deskWords().review;
  const list = useRead(
    "card-reviews",
    async (signal) => (await api.get("/api/card-reviews", { signal })).body.items,
  );
  const [trouble, setTrouble] = useState("");
  return (
    <>
      <p class="lead">{words.lead}</p>
      <p>
        <Button onClick={() => void bringReview().catch((error: unknown) => setTrouble(explain(error)))}>
          {words.export}
        </Button>{" "}
        <span role="status">{trouble}</span>
      </p>
      <Shown read={list}>
        {(cards) => (
          <ul class="review-list" aria-label={words.list}>
            {cards.map((card) => (
              <li class="review-card" key={`${card.enterprise} ${card.sign}`}>
                <CardLine card={card} again={() => void list.again()} />
              </li>
            ))}
          </ul>
        )}
      </Shown>
    </>
  );
}

function CardLine({ card, again }: { card: Status; again: () => void }) {
  const words = deskWords().review;
  const leads = person.value?.grants?.some((g) => g.role === "manager" || g.role === "administrator");
  return (
    <>
      <p>
        <strong>{curly(said(card.name))}</strong> {enterpriseName(card.enterprise)},{" "}
        {words.version(card.version)}
        {": "}
        {card.estimates.length > 0 ? words.estimates(card.estimates.length) : words.none}
      </p>
      {card.reviews.map((r) => (
        <p key={r.id} class="field-hint">
          {r.agrees
            ? words.signed(r.reviewer, r.qualification, r.signed_on)
            : words.differs(r.reviewer, r.signed_on, r.note)}
        </p>
      ))}
      {card.estimates.length > 0 && (
        <details>
          <summary>{words.read}</summary>
          <ul>
            {card.estimates.map((e) => (
              <li key={`${e.kind} ${e.key}`}>
                {words.kinds[e.kind]}:{" "}
                {[e.now && said(e.now), said(e.text)]
                  .filter(Boolean)
                  .map((t) => curly(t as string))
                  .join(" ")}
                {e.note && <span class="field-hint"> ({e.note})</span>}
              </li>
            ))}
          </ul>
        </details>
      )}
      {leads && (
        <details>
          <summary>{words.sign}</summary>
          <Signature card={card} again={again} />
        </details>
      )}
    </>
  );
}

function Signature({ card, again }: { card: Status; again: () => void }) {
  const words = deskWords().review;
  const [form, setForm] = useState({
    reviewer: "",
    qualification: "",
    signed_on: isoOf(today()),
    agrees: true,
    note: "",
  });
  const [busy, setBusy] = useState(false);
  const send = async () => {
    setBusy(true);
    try {
      await api.post("/api/card-reviews", {
        body: { ...form, enterprise: card.enterprise, sign: card.sign, version: card.version },
      });
      toast(words.done);
      again();
    } catch (failure) {
      toast(explain(failure));
    } finally {
      setBusy(false);
    }
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void send();
      }}
    >
      <TextField
        label={words.reviewer}
        input={{ maxLength: 200, autoComplete: "off" }}
        value={form.reviewer}
        onValue={(reviewer) => setForm({ ...form, reviewer })}
      />
      <TextField
        label={words.qualification}
        input={{ maxLength: 200, autoComplete: "off" }}
        value={form.qualification}
        onValue={(qualification) => setForm({ ...form, qualification })}
      />
      <DateField
        label={words.on}
        value={form.signed_on}
        onValue={(signed_on) => setForm({ ...form, signed_on })}
      />
      <CheckField
        label={words.agrees}
        checked={form.agrees}
        onChecked={(agrees) => setForm({ ...form, agrees })}
      />
      {!form.agrees && (
        <TextField
          label={words.note}
          input={{ maxLength: 500 }}
          value={form.note}
          onValue={(note) => setForm({ ...form, note })}
        />
      )}
      <Button kind="main" type="submit" busy={busy}>
        {words.send}
      </Button>
    </form>
  );
}
