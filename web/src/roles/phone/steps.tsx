import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import type { PageProps } from "../../shell/page-list";
import { DateField } from "../../ui/date-field";
import { NumberField } from "../../ui/number-field";
import { Trouble } from "../../ui/states";
import type { TodayUnit } from "./compose";
import { say } from "./entry";
import { Gate } from "./gate";
import type { View } from "./overlay";
import { afterToday, BigButton, OtherDay, useFields, useKeeping } from "./parts";
import { Picture } from "./pictures";
import { walk } from "./walk";
import { phoneWords } from "./words";

function unitOf(farm: View, cycle: string | undefined): TodayUnit | undefined {
  return farm.units.find((u) => u.cycle_id === cycle);
}

/** Milestone says on which day a milestone was done. */
export function Milestone({ params: { cycle, milestone } }: PageProps) {
  const found = (farm: View) => unitOf(farm, cycle)?.milestones?.find((m) => m.key === milestone);
  return (
    <Gate title={(farm) => found(farm)?.name ?? phoneWords().todo.title}>
      {(farm) => {
        const m = found(farm);
        return m && cycle ? (
          <MarkDone farm={farm} cycle={cycle} milestone={m} />
        ) : (
          <p>{phoneWords().item.gone}</p>
        );
      }}
    </Gate>
  );
}

function MarkDone({
  farm,
  cycle,
  milestone,
}: {
  farm: View;
  cycle: string;
  milestone: NonNullable<TodayUnit["milestones"]>[number];
}) {
  const words = phoneWords();
  const { route } = useLocation();
  const [on, setOn] = useState(farm.on);
  const { busy, error, keep } = useKeeping();
  const { box, complete } = useFields();
  const what = words.milestone.what(milestone.name, on);
  const mark = () =>
    complete(true) &&
    keep(
      () => say({ farm, kind: "milestone", data: { milestone: milestone.key }, on, cycle, what }),
      () => route(walk.value),
    );
  return (
    <div ref={box}>
      {milestone.note && <p>{milestone.note}</p>}
      <p>{words.milestone.note}</p>
      {error !== null && <Trouble error={error} />}
      <DateField
        label={words.onDay}
        value={on}
        onValue={setOn}
        max={farm.on}
        error={afterToday(on, farm)}
        quick
      />
      <BigButton kind="main" busy={busy} picture={<Picture of="step" />} onClick={mark}>
        {words.milestone.mark}
      </BigButton>
    </div>
  );
}

/** Reading takes how far the plants are: the share of the ground that is green. */
export function Reading({ params: { cycle } }: PageProps) {
  return (
    <Gate title={phoneWords().reading.cover}>
      {(farm) =>
        unitOf(farm, cycle) && cycle ? <Cover farm={farm} cycle={cycle} /> : <p>{phoneWords().item.gone}</p>
      }
    </Gate>
  );
}

function Cover({ farm, cycle }: { farm: View; cycle: string }) {
  const { reading: words, save } = phoneWords();
  const { route } = useLocation();
  const [percent, setPercent] = useState<number | null>(null);
  const [said, setSaid] = useState({ on: farm.on, note: "" });
  const { busy, error, keep } = useKeeping();
  const { box, needed, complete } = useFields();
  const give = () =>
    complete(percent !== null) &&
    percent !== null &&
    keep(
      () =>
        say({ farm, kind: "cover", data: { percent }, on: said.on, cycle, what: words.whatCover(percent) }),
      () => route(walk.value),
    );
  return (
    <div ref={box}>
      <p>{words.coverAsk}</p>
      {error !== null && <Trouble error={error} />}
      <NumberField
        label={words.coverLabel}
        measure="%"
        value={percent}
        onValue={setPercent}
        min={0}
        max={100}
        error={needed(percent === null)}
      />
      <BigButton kind="main" busy={busy} picture={<Picture of="leaf" />} onClick={give}>
        {save}
      </BigButton>
      <OtherDay farm={farm} said={said} onSaid={setSaid} note={false} />
    </div>
  );
}
