import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { useRead, useReadList } from "../../api/read";
import type { Branch, Person } from "../../api/types";
import { Page } from "../../shell/page";
import { Button } from "../../ui/button";
import { SelectField } from "../../ui/choice";
import { TextField } from "../../ui/field";
import { More, Shown } from "../../ui/shown";
import { Table } from "../../ui/table";
import { PersonForm } from "./person-form";
import { WayIn } from "./way-in";
import { officeWords } from "./words";

/** The roles in the order of the list. */
export const roleKeys = [
  "administrator",
  "manager",
  "advisor",
  "field-officer",
  "caretaker",
  "owner",
] as const;

/** RoleKey is a role as the API writes it. */
export type RoleKey = (typeof roleKeys)[number];

/** useBranchList reads the branches, for names and choices. */
export function useBranchList(): readonly Branch[] {
  const read = useRead("branches", async (signal) => (await api.get("/api/branches", { signal })).body.items);
  return read.value ?? [];
}

type Doing = { what: "add" } | { what: "change" | "let-in"; person: Person } | null;

/** People lists everybody the firm knows, adds and changes them, and lets them in. */
export function People() {
  const words = officeWords();
  const [q, setQ] = useState("");
  const [role, setRole] = useState<RoleKey | "">("");
  const [doing, setDoing] = useState<Doing>(null);
  const branches = useBranchList();
  const list = useReadList<Person>(`people ${role} ${q}`, async (cursor, signal) => {
    const query = { ...(role ? { role } : {}), ...(q ? { q } : {}), ...(cursor ? { cursor } : {}) };
    return (await api.get("/api/people", { query, signal })).body;
  });
  const close = () => setDoing(null);
  return (
    <Page
      title={words.people.title}
      aside={<Button onClick={() => setDoing({ what: "add" })}>{words.people.add}</Button>}
    >
      <div class="people-tools">
        <TextField
          label={words.people.find}
          type="search"
          optional
          value={q}
          onValue={setQ}
          input={{ maxLength: 100 }}
        />
        <SelectField
          label={words.people.role}
          value={role}
          onValue={setRole}
          blank={words.people.anyRole}
          optional
          options={roleKeys.map((value) => ({ value, label: officeWords().roles[value] }))}
        />
      </div>
      <Shown read={list} texts={words.problems}>
        {(people) => <PeopleTable people={people} branches={branches} setDoing={setDoing} />}
      </Shown>
      <More list={list} label={words.more} />
      {doing && doing.what !== "let-in" && (
        <PersonForm
          {...(doing.what === "change" ? { person: doing.person } : {})}
          branches={branches}
          onClose={close}
          saved={() => void list.again()}
        />
      )}
      {doing?.what === "let-in" && <WayIn person={doing.person} onClose={close} />}
    </Page>
  );
}

function PeopleTable({
  people,
  branches,
  setDoing,
}: {
  people: readonly Person[];
  branches: readonly Branch[];
  setDoing: (doing: Doing) => void;
}) {
  const words = officeWords().people;
  return (
    <Table
      caption={words.title}
      rows={people}
      keyOf={(p) => p.id}
      empty={<p class="empty">{words.none}</p>}
      columns={[
        { key: "name", head: words.name, cell: (p) => p.name },
        { key: "roles", head: words.roles, cell: (p) => rolesOf(p, branches).join("; ") },
        {
          key: "phone",
          head: words.phone,
          cell: (p) => (p.phone_flag ? `${p.phone} (${words.phoneFlag})` : p.phone),
        },
        { key: "email", head: words.email, cell: (p) => p.email },
        {
          key: "do",
          head: officeWords().doings,
          cell: (p) => (
            <>
              {!p.active && <em>{words.inactive} </em>}
              <Button
                kind="quiet"
                aria-label={words.changeOf(p.name)}
                onClick={() => setDoing({ what: "change", person: p })}
              >
                {words.change}
              </Button>
              {p.active && (p.grants?.length ?? 0) > 0 && (
                <Button
                  kind="quiet"
                  aria-label={words.wayInOf(p.name)}
                  onClick={() => setDoing({ what: "let-in", person: p })}
                >
                  {words.wayIn}
                </Button>
              )}
            </>
          ),
        },
      ]}
    />
  );
}

/** rolesOf says a person's roles, each with its branch. */
export function rolesOf(person: Person, branches: readonly Branch[]): string[] {
  const words = officeWords().people;
  return (person.grants ?? []).map((grant) => {
    const role = officeWords().roles[grant.role as RoleKey] ?? grant.role;
    if (grant.role === "caretaker" || grant.role === "owner") return role;
    const branch = branches.find((b) => b.id === grant.branch_id)?.name;
    return `${role}, ${grant.branch_id ? (branch ?? grant.branch_id) : words.allBranches}`;
  });
}
