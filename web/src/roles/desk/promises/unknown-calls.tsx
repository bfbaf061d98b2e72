import { api } from "../../../api/client";
import { useRead } from "../../../api/read";
import { formats } from "../../../i18n/format";
import { useAgain } from "../clock";
import { deskWords } from "../words";

const shown = 20;

/** UnknownCalls are the calls whose farm nobody knows yet, newest first, each with the way to find it. */
export function UnknownCalls() {
  const words = deskWords().promises;
  const list = useRead(
    "unknown-calls",
    async (signal) =>
      (await api.get("/api/calls", { query: { no_farm: true, limit: shown }, signal })).body.items,
  );
  useAgain(list.again);
  if (!list.value || list.value.length === 0) return null;
  return (
    <section class="unknown-calls" aria-label={words.unknown}>
      <h2>{words.unknown}</h2>
      <ul>
        {list.value.map((call) => (
          <li key={call.id}>
            <strong>{call.phone || deskWords().call.someoneElse}</strong>{" "}
            {words.unknownAt(formats().dateTime(call.started_at))}: {call.said}{" "}
            <a href={`/desk/call?attach=${encodeURIComponent(call.id)}`}>{words.unknownOpen}</a>
          </li>
        ))}
      </ul>
    </section>
  );
}
