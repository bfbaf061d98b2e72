import { useState } from "preact/hooks";
import { api } from "../../../api/client";
import { explain } from "../../../api/explain";
import { useRead } from "../../../api/read";
import { person } from "../../../api/session";
import { isoOf, today } from "../../../time/day";
import { Button } from "../../../ui/button";
import { SelectField } from "../../../ui/choice";
import { DateField } from "../../../ui/date-field";
import { toast } from "../../../ui/toast";
import { firm } from "../firm";
import { deskWords } from "../words";

/** Absences say who is away and who covers; what they promised stands on the list of whoever covers. */
export function Absences() {
  const words = deskWords().promises;
  const list = useRead("absences", async (signal) => (await api.get("/api/absences", { signal })).body.items);
  const me = person.value?.id;
  const back = (id: string) =>
    api
      .delete("/api/absences/{id}", { path: { id } })
      .catch((error: unknown) => toast(explain(error)))
      .finally(() => void list.again());
  return (
    <section class="absences" aria-label={words.away}>
      {(list.value ?? []).map((a) => (
        <p key={a.id}>
          {words.awayLine(a.person, a.cover, a.from, a.until)}{" "}
          {a.person_id === me && (
            <Button kind="quiet" onClick={() => void back(a.id)}>
              {words.awayBack}
            </Button>
          )}
        </p>
      ))}
      <details>
        <summary>{words.awaySay}</summary>
        <Away again={() => void list.again()} />
      </details>
    </section>
  );
}

function Away({ again }: { again: () => void }) {
  const words = deskWords().promises;
  const me = person.value?.id ?? "";
  const [cover, setCover] = useState("");
  const [from, setFrom] = useState(isoOf(today()));
  const [until, setUntil] = useState(isoOf(today() + 7));
  const send = async () => {
    try {
      await api.post("/api/absences", { body: { person_id: me, cover_id: cover, from, until } });
      again();
    } catch (failure) {
      toast(explain(failure));
    }
  };
  return (
    <form
      class="side-by-side absence-form"
      onSubmit={(event) => {
        event.preventDefault();
        void send();
      }}
    >
      <SelectField
        label={words.awayCover}
        blank={deskWords().ticket.form.choose}
        options={firm.value.staff
          .filter((p) => p.active && p.id !== me)
          .map((p) => ({ value: p.id, label: p.name }))}
        value={cover as ""}
        onValue={setCover}
      />
      <DateField label={words.awayFrom} value={from} onValue={setFrom} />
      <DateField label={words.awayUntil} value={until} onValue={setUntil} />
      <Button type="submit">{words.awaySend}</Button>
    </form>
  );
}
