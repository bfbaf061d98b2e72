import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { useLocation } from "preact-iso";
import { api } from "../../../api/client";
import { useRead } from "../../../api/read";
import { Shown } from "../../../ui/shown";
import { Dotted } from "../brief/line";
import { distinct } from "../find/hits";
import type { Hit } from "../server";
import { deskWords } from "../words";

/**
 * FromPhone is where a phone system's link leads (`/desk/call?from=...`): the
 * brief of the one farm whose number it is, or everybody who shares it.
 * Nothing is noted and no call begins until somebody says so; the number
 * leaves the address, so that it stands in no history.
 */
export function FromPhone({ from, unknown }: { from: string; unknown: () => void }) {
  const words = deskWords().call;
  const { route } = useLocation();
  const box = useRef<HTMLUListElement>(null);
  const found = useRead(`from ${from}`, async (signal) => {
    const { body } = await api.get("/api/search", { query: { q: from, limit: 12 }, signal });
    return distinct(body.items).filter((h) => h.why === "phone");
  });
  const hits = found.value;
  useEffect(() => {
    if (!hits) return;
    const [only, ...more] = hits;
    if (!only) unknown();
    else if (more.length === 0) route(briefOf(only, from), true);
  }, [hits]);
  useLayoutEffect(() => box.current?.querySelector<HTMLElement>("a")?.focus(), [hits]);
  return (
    <section class="note note-alone" aria-label={words.fromTitle(from)}>
      <h2>{words.fromTitle(from)}</h2>
      <Shown read={found}>
        {(people) => (
          <>
            <p>{words.fromWho(people.length)}</p>
            <ul class="from-people" ref={box}>
              {people.map((h) => (
                <li key={`${h.id} ${h.farm_id}`}>
                  <a href={briefOf(h, from)}>
                    <strong>{h.label}</strong>{" "}
                    <Dotted
                      parts={[
                        h.kind === "client" && words.client,
                        deskWords().brief.speaks[h.language],
                        h.farm,
                        h.town,
                      ]}
                    />
                  </a>
                </li>
              ))}
            </ul>
          </>
        )}
      </Shown>
    </section>
  );
}

function briefOf(hit: Hit, phone: string): string {
  const who = hit.kind === "client" ? "client" : hit.id;
  if (!hit.farm_id) return `/desk/call?phone=${encodeURIComponent(phone)}`;
  return `/desk/farms/${encodeURIComponent(hit.farm_id)}?who=${encodeURIComponent(who)}`;
}
