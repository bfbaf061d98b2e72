import { useRef, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { api } from "../../../api/client";
import { explain } from "../../../api/explain";
import { useRead } from "../../../api/read";
import { formats } from "../../../i18n/format";
import { type Language, language, languages } from "../../../i18n/language";
import { Button } from "../../../ui/button";
import { SelectField } from "../../../ui/choice";
import { CheckField, TextField } from "../../../ui/field";
import { Shown } from "../../../ui/shown";
import { useSearch } from "../find/search";
import type { CallLine, Hit } from "../server";
import { deskWords } from "../words";

/** Attach puts a call of an unknown number on the record of its farm, as somebody the farm has already or as a new caretaker. */
export function Attach({ id }: { id: string }) {
  const words = deskWords().call;
  const call = useRead(`call ${id}`, async (signal) => {
    return (await api.get("/api/calls/{id}", { path: { id }, signal })).body;
  });
  return (
    <section class="note note-alone" aria-label={words.attachTitle}>
      <h2>{words.attachTitle}</h2>
      <Shown read={call} texts={words.problems}>
        {(line) => <AttachForm line={line} />}
      </Shown>
    </section>
  );
}

function AttachForm({ line }: { line: CallLine }) {
  const words = deskWords().call;
  const { route } = useLocation();
  const [text, setText] = useState("");
  const [name, setName] = useState("");
  const [speaks, setSpeaks] = useState<Language>(language.peek());
  const [isNew, setNew] = useState(false);
  const [error, setError] = useState("");
  const busy = useRef(false);
  const found = useSearch(text);
  const put = async (hit: Hit) => {
    if (busy.current) return;
    if (isNew && name.trim() === "") return setError(words.attachName);
    busy.current = true;
    try {
      const person = isNew ? await newCaretaker(name.trim(), speaks, line.phone, hit.farm_id) : known(hit);
      await attach(line, hit.farm_id, person);
      route(
        `/desk/farms/${encodeURIComponent(hit.farm_id)}${person ? `?who=${encodeURIComponent(person)}` : ""}`,
      );
    } catch (failure) {
      setError(explain(failure));
    } finally {
      busy.current = false;
    }
  };
  return (
    <>
      <p>
        <strong>{line.phone || words.someoneElse}</strong>, {formats().dateTime(line.started_at)}: {line.said}
      </p>
      <CheckField label={words.attachNew} checked={isNew} onChecked={setNew} />
      {isNew && (
        <div class="side-by-side">
          <TextField
            label={words.attachCalled}
            input={{ maxLength: 120, autoComplete: "off" }}
            value={name}
            onValue={setName}
          />
          <SelectField<Language>
            label={words.attachSpeaks}
            options={languages.map((l) => ({ value: l, label: words.card.languages[l] }))}
            value={speaks}
            onValue={(l) => l && setSpeaks(l)}
          />
        </div>
      )}
      <TextField
        label={words.attachFarm}
        input={{ maxLength: 200, autoComplete: "off" }}
        value={text}
        onValue={setText}
        error={error || undefined}
      />
      <ul class="from-people">
        {(found?.hits ?? [])
          .filter((h) => h.farm_id !== "")
          .map((h) => (
            <li key={`${h.kind} ${h.id} ${h.farm_id}`}>
              <Button onClick={() => void put(h)}>
                {words.attachTo(h.farm, isNew || h.kind === "farm" ? "" : h.label)}
              </Button>
            </li>
          ))}
      </ul>
    </>
  );
}

const known = (hit: Hit): string => (hit.kind === "person" ? hit.id : "");

async function newCaretaker(name: string, speaks: Language, phone: string, farmId: string): Promise<string> {
  const { body } = await api.post("/api/people", {
    body: { name, language: speaks, phone, grants: [{ role: "caretaker", branch_id: "" }] },
  });
  await api.put("/api/farms/{id}/people/{person}", {
    path: { id: farmId, person: body.id },
    body: { in_charge: false },
  });
  return body.id;
}

async function attach(line: CallLine, farmId: string, personId: string): Promise<void> {
  await api.put("/api/calls/{id}", {
    path: { id: line.id },
    version: line.version,
    body: {
      farm_id: farmId,
      channel: line.channel as "phone",
      said: line.said,
      advice: line.advice,
      phone: line.phone,
      ...(personId ? { person_id: personId } : {}),
    },
  });
}
