import type { CycleOutlook, CyclePage, Pack } from "../../api/types";
import { formats } from "../../i18n/format";
import { Standing } from "../../marks/marks";
import { sentenceOf } from "../../strip/sentence";
import { StripView } from "../../strip/strip";
import { isoOf, parseDay } from "../../time/day";
import { said } from "../packs";
import type { Names } from "../reason";
import { harvestKey, stripOf } from "../strip-of";
import { tellReasons } from "../told";
import { farmWords, type Standing as StandingName } from "../words";
import { pageWords } from "./words";

/** Schedule shows a cycle's strip, what it means for the first harvest, and why. */
export function Schedule({ cycle, pack, names }: { cycle: CyclePage; pack: Pack | undefined; names: Names }) {
  const words = pageWords();
  const { outlook } = cycle;
  if (!outlook) return <p class="empty">{words.notSwept}</p>;
  const strip = stripOf(outlook, harvestKey(outlook, pack), names);
  return (
    <div class="schedule">
      <StripView strip={strip} />
      <p class="unseen-on-screen">{sentenceOf(strip, farmWords())}</p>
      <Why outlook={outlook} names={names} />
      <Harvest cycle={cycle} outlook={outlook} names={names} harvest={strip.harvest} />
      {pack && <Claims outlook={outlook} pack={pack} />}
    </div>
  );
}

/** CycleStanding is the standing of a cycle; one that is paused and behind by its dates says both. */
export function CycleStanding({ outlook }: { outlook: CycleOutlook }) {
  const behindToo = outlook.standing === "paused" && outlook.schedule === "behind";
  return (
    <Standing
      standing={outlook.standing as StandingName}
      {...(behindToo ? { also: pageWords().pausedAndBehind } : {})}
    />
  );
}

function Why({ outlook, names }: { outlook: CycleOutlook; names: Names }) {
  const words = pageWords();
  const told = tellReasons(outlook.reasons, names);
  if (!told.first) return null;
  return (
    <ul class="reasons" aria-label={words.why}>
      {[told.first, ...told.rest].map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
}

function Harvest({
  cycle,
  outlook,
  names,
  harvest,
}: {
  cycle: CyclePage;
  outlook: CycleOutlook;
  names: Names;
  harvest: string;
}) {
  const words = pageWords().harvest;
  const done = cycle.milestones.find((m) => m.key === harvest)?.done_on;
  const sentences = [
    done
      ? words.done(done)
      : outlook.harvest.p50
        ? words.likely(outlook.harvest.p50, outlook.harvest.p90)
        : "",
    outlook.target ? words.planned(outlook.target) : "",
    words.slip(outlook.slip.own, outlook.slip.pause),
    outlook.hold_up ? words.holdUp(names("milestone", outlook.hold_up) ?? outlook.hold_up) : "",
    outlook.miss_season > 0.005 ? words.season(formats().percent(outlook.miss_season * 100)) : "",
    outlook.not_heard_since ? words.notHeard(outlook.not_heard_since) : "",
  ];
  return (
    <>
      <p class="harvest">{sentences.filter(Boolean).join(" ")}</p>
      <Lost lost={outlook.lost} names={names} />
    </>
  );
}

function Lost({ lost, names }: { lost: CycleOutlook["lost"]; names: Names }) {
  const words = pageWords().harvest;
  const counted = lost.filter((l) => l.days !== 0);
  if (counted.length === 0) return null;
  return (
    <dl class="lost" aria-label={words.lost}>
      {counted.map((l) => (
        <div key={l.key}>
          <dt>{words.lostKeys[l.key] ?? names("milestone", l.key) ?? l.key}</dt>
          <dd>{words.lostDays(l.days)}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Claims sets what the trade says beside the computed date, each with what it rests on. */
function Claims({ outlook, pack }: { outlook: CycleOutlook; pack: Pack }) {
  const words = pageWords();
  const claims = pack.claims.flatMap((claim) => {
    const from = outlook.milestones.find((m) => m.key === claim.from);
    const to = outlook.milestones.find((m) => m.key === claim.to);
    const start = parseDay(from?.done_on || from?.p50);
    if (!from || !to || start === null || to.state === "done") return [];
    return [{ claim, on: isoOf(start + claim.days), ours: to.p50 }];
  });
  return (
    <>
      {claims.map(({ claim, on, ours }) => (
        <aside key={claim.to} class="claim" aria-label={words.claim.says}>
          <p>
            {said(claim.text)} {words.claim.would(on)} <Basis grade={claim.grade} />
          </p>
          <p>
            {words.claim.ours(ours)}{" "}
            <Basis grade={basisOf(pack, claim.to)} source={sourceOf(pack, claim.to)} /> {words.claim.caution}
          </p>
        </aside>
      ))}
    </>
  );
}

function basisOf(pack: Pack, key: string): string {
  return pack.milestones.find((m) => m.key === key)?.days.grade ?? "";
}

function sourceOf(pack: Pack, key: string): string {
  const source = pack.milestones.find((m) => m.key === key)?.days.source;
  return (source && pack.sources[source]?.citation) || "";
}

/** Basis says in words how far a figure can be trusted. */
export function Basis({ grade, source }: { grade: string; source?: string }) {
  const words = pageWords().grades[grade];
  if (!words) return null;
  return (
    <span class="basis">
      ({words}
      {source ? `: ${source}` : ""})
    </span>
  );
}
