import type { PageProps } from "../../shell/page-list";
import type { TodayTick, TodayUnit } from "./compose";
import { Gate } from "./gate";
import type { View } from "./overlay";
import { phoneWords } from "./words";

/** Plan is the strip for a thumb: one milestone under the other, with its dates and without a judgement. */
export function Plan({ params: { cycle } }: PageProps) {
  const found = (farm: View) => farm.units.find((u) => u.cycle_id === cycle);
  return (
    <Gate title={phoneWords().plan.title}>
      {(farm) => {
        const unit = found(farm);
        return unit?.strip ? <Strip unit={unit} strip={unit.strip} /> : <p>{phoneWords().item.gone}</p>;
      }}
    </Gate>
  );
}

function Strip({ unit, strip }: { unit: TodayUnit; strip: NonNullable<TodayUnit["strip"]> }) {
  const words = phoneWords().plan;
  // What is open may be marked before it is asked for: a hatch comes when it comes.
  const markable = (tick: TodayTick) =>
    tick.state === "open" && unit.milestones.some((m) => m.key === tick.key);
  const over = strip.ticks.filter((t) => t.state === "done" || t.state === "implied").length;
  return (
    <>
      <p>
        {unit.name}. {words.started(strip.started_on)} {words.label(over, strip.ticks.length)}.
      </p>
      <ol class="phone-plan">
        {strip.ticks.map((tick) => (
          <Tick
            key={tick.key}
            tick={tick}
            mark={markable(tick) ? `/today/milestone/${unit.cycle_id}/${tick.key}` : ""}
          />
        ))}
      </ol>
      <p>{words.caution}</p>
    </>
  );
}

function Tick({ tick, mark }: { tick: TodayTick; mark: string }) {
  const words = phoneWords().plan;
  const over = tick.state === "done" || tick.state === "implied";
  return (
    <li class={`tick tick-${over ? "done" : tick.state}`}>
      <strong>{tick.name}</strong>
      {mark && (
        <a class="phone-mark" href={mark}>
          {phoneWords().milestone.mark}
        </a>
      )}
      {tick.state === "open" && <span class="tick-now">{words.next}</span>}
      <span class="phone-note">{datesOf(tick)}</span>
    </li>
  );
}

function datesOf(tick: TodayTick): string {
  const words = phoneWords().plan;
  if (tick.done_on) return words.done(tick.done_on);
  if (tick.state === "implied" || tick.state === "done") return words.doneUnknown;
  return tick.p50 && tick.p90 ? words.likely(tick.p50, tick.p90) : "";
}
