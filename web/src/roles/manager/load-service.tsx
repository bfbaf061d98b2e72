import { api } from "../../api/client";
import { useRead } from "../../api/read";
import type { Load } from "../../api/types";
import { packOf, said, usePackList } from "../../farm/packs";
import { formats } from "../../i18n/format";
import { Table } from "../../ui/table";
import { managerWords } from "./words";

/** ServiceLines says how tickets were served: on the first call, how soon a first word, and what lies. */
export function ServiceLines({ service }: { service: Load["service"] }) {
  const words = managerWords().load.service;
  return (
    <ul class="ruled" aria-label={words.title}>
      <li>{words.firstCall(service.first_call, service.calls)}</li>
      <li>
        {words.firstWord(service.in_time, service.spoken)}{" "}
        {service.spoken > 0 && words.waits(service.median_minutes, service.ninth_minutes)}
      </li>
      <li>{words.reopened(service.reopened)}</li>
      <li>{words.stale(service.stale, service.stale_at_most)}</li>
    </ul>
  );
}

/** People is what each has in hand; an advisor sees the own line alone. */
export function People({ people }: { people: Load["people"] }) {
  const words = managerWords().load;
  const { number } = formats();
  if (people.length === 0) return null;
  return (
    <section class="explained" aria-label={words.people.title}>
      <h2>{words.people.title}</h2>
      <Table
        caption={words.people.why}
        columns={[
          { key: "name", head: words.people.name, cell: (p) => p.name },
          { key: "hand", head: words.people.inHand, number: true, cell: (p) => number(p.in_hand) },
          { key: "waiting", head: words.people.waiting, number: true, cell: (p) => number(p.waiting) },
          { key: "overdue", head: words.people.overdue, number: true, cell: (p) => number(p.overdue) },
          { key: "settled", head: words.people.settled, number: true, cell: (p) => number(p.settled) },
        ]}
        rows={people}
        keyOf={(p) => p.person_id}
      />
    </section>
  );
}

/** Outbreaks says which sign stands on neighbouring farms, closer together than chance would put it. */
export function Outbreaks() {
  const words = managerWords().load.outbreaks;
  const read = useRead("outbreaks", async (signal) => (await api.get("/api/outbreaks", { signal })).body);
  const packs = usePackList();
  const list = read.value;
  if (!list || list.items.length === 0) return null;
  const nameOf = (key: string) => {
    for (const { enterprise } of packs) {
      const sign = packOf(enterprise)?.signs.find((s) => s.key === key);
      if (sign) return said(sign.text);
    }
    return key;
  };
  return (
    <section aria-label={words.title}>
      <h2>{words.title}</h2>
      <ul class="ruled">
        {list.items.map((o) => (
          <li key={o.sign}>
            {words.one(nameOf(o.sign), o.cases, o.farms.length, o.since)}
            <span class="minor">
              {o.farms.map((f) => f.farm).join(", ")}. {words.chance(o.expected)}
            </span>
          </li>
        ))}
      </ul>
      <p class="field-hint">{words.alarm(list.alarm)}</p>
    </section>
  );
}
