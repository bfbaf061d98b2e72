import type { FarmPage } from "../../../api/types";
import { deskWords } from "../words";
import { callerOf } from "./caller";
import { Dotted, Line } from "./line";

/** CallerLine is who is calling and what they are on this farm. */
export function CallerLine({ farm, who, phone }: { farm: FarmPage; who: string; phone: string }) {
  const words = deskWords().brief;
  const caller = callerOf(farm, who, phone);
  if (caller.kind === "unknown") {
    return (
      <Line name={words.lines.caller}>
        {caller.phone && <strong>{caller.phone} </strong>}
        {words.unknownCaller}
      </Line>
    );
  }
  const what =
    caller.kind === "client"
      ? words.isClient
      : caller.inCharge
        ? words.inChargeSince(caller.since)
        : words.caretakerSince(caller.since);
  return (
    <Line name={words.lines.caller}>
      <strong>{caller.name}</strong>
      <Dotted
        parts={[
          what,
          caller.phone && <a href={`tel:${caller.phone}`}>{caller.phone}</a>,
          caller.kind === "caretaker" && words.speaks[caller.language],
        ]}
      />
    </Line>
  );
}
