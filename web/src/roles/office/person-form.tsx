import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { explainField } from "../../api/explain";
import type { Branch, Person } from "../../api/types";
import { type Language, language, languages } from "../../i18n/language";
import { shared } from "../../i18n/shared/words";
import { Button } from "../../ui/button";
import { Choice, SelectField } from "../../ui/choice";
import { CheckField, PhoneField, TextField } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { type RoleKey, roleKeys, rolesOf } from "./people";
import { officeWords } from "./words";

/** PersonForm adds a person, or changes one. */
export function PersonForm({
  person,
  branches,
  onClose,
  saved,
}: {
  person?: Person;
  branches: readonly Branch[];
  onClose: () => void;
  saved: () => void;
}) {
  const words = officeWords();
  const [name, setName] = useState(person?.name ?? "");
  const [phone, setPhone] = useState(person?.phone ?? "");
  const [email, setEmail] = useState(person?.email ?? "");
  const [lang, setLang] = useState<Language>((person?.language as Language) ?? language.peek());
  const [active, setActive] = useState(person?.active ?? true);
  const [grants, setGrants] = useState(person?.grants ?? []);
  const send = async () => {
    const body = { name, phone, email, language: lang, active, grants };
    if (person) {
      await api.put("/api/people/{id}", { path: { id: person.id }, version: person.version, body });
    } else {
      await api.post("/api/people", { body });
    }
    saved();
  };
  return (
    <FormDialog
      title={person ? words.people.changeOf(person.name) : words.people.add}
      send={send}
      onClose={onClose}
      done={words.people.saved}
      texts={words.problems}
      readAgain={saved}
    >
      {(error) => (
        <>
          <TextField
            label={words.people.name}
            value={name}
            onValue={setName}
            error={explainField(error, "name", words.problems)}
            input={{ maxLength: 200 }}
          />
          <PhoneField
            label={words.people.phone}
            optional
            value={phone}
            onValue={setPhone}
            error={explainField(error, "phone", words.problems)}
          />
          <TextField
            label={words.people.email}
            hint={words.people.emailHint}
            optional
            type="email"
            value={email}
            onValue={setEmail}
            error={explainField(error, "email", words.problems)}
            input={{ maxLength: 200 }}
          />
          <Choice<Language>
            label={words.people.language}
            options={languages.map((value) => ({ value, label: shared().languages[value] }))}
            value={lang}
            onValue={setLang}
          />
          <Roles grants={grants} setGrants={setGrants} branches={branches} />
          {person && <CheckField label={words.people.active} checked={active} onChecked={setActive} />}
        </>
      )}
    </FormDialog>
  );
}

type Grants = NonNullable<Person["grants"]>;

function Roles({
  grants,
  setGrants,
  branches,
}: {
  grants: Grants;
  setGrants: (grants: Grants) => void;
  branches: readonly Branch[];
}) {
  const words = officeWords().people;
  const [role, setRole] = useState<RoleKey | "">("");
  const [branch, setBranch] = useState("");
  const farmSide = role === "caretaker" || role === "owner";
  const said = rolesOf({ grants } as Person, branches);
  const add = () => {
    if (!role) return;
    const next = { role, branch_id: farmSide ? "" : branch };
    if (!grants.some((g) => g.role === next.role && g.branch_id === next.branch_id))
      setGrants([...grants, next]);
    setRole("");
    setBranch("");
  };
  return (
    <fieldset class="group">
      <legend>{words.roles}</legend>
      <p class="field-hint">{words.rolesHint}</p>
      <ul>
        {said.map((text, i) => (
          <li key={text}>
            {text}{" "}
            <Button
              kind="quiet"
              aria-label={words.removeRole(text)}
              onClick={() => setGrants(grants.filter((_, j) => j !== i))}
            >
              ×
            </Button>
          </li>
        ))}
      </ul>
      <SelectField
        label={words.role}
        optional
        value={role}
        onValue={setRole}
        blank="–"
        options={roleKeys.map((value) => ({ value, label: officeWords().roles[value] }))}
      />
      {role && !farmSide && (
        <SelectField
          label={words.branch}
          optional
          value={branch}
          onValue={setBranch}
          blank={words.allBranches}
          options={branches.map((b) => ({ value: b.id, label: b.name }))}
        />
      )}
      <Button onClick={add} disabled={!role}>
        {words.addRole}
      </Button>
    </fieldset>
  );
}
