import { useEffect, useState } from "preact/hooks";
import { deskWords } from "../words";
import type { Draft } from "./draft";
import { readDrafts } from "./kept";

/** Unsent names the call notes that were begun on this device and not sent, each with the way to it. */
export function Unsent() {
  const [drafts, setDrafts] = useState<Draft[]>([]);
  useEffect(() => {
    readDrafts()
      .then((all) => setDrafts(Object.values(all)))
      .catch(() => undefined);
  }, []);
  if (drafts.length === 0) return null;
  const words = deskWords().call;
  return (
    <p class="unsent">
      {words.unsent(drafts.length)}:{" "}
      {drafts.map((d) => (
        <a key={d.id} href={d.farmId ? `/desk/farms/${d.farmId}` : "/desk/call"}>
          {d.farm || words.noFarm}
        </a>
      ))}
    </p>
  );
}
