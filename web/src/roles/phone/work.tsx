import { useLocation } from "preact-iso";
import type { PageProps } from "../../shell/page-list";
import { Trouble } from "../../ui/states";
import type { TodayUnit, TodayWork } from "./compose";
import { say } from "./entry";
import { Gate } from "./gate";
import type { View } from "./overlay";
import { BigButton, Listen, Row, Rows, useKeeping } from "./parts";
import { NamedPicture, Picture } from "./pictures";
import { walk } from "./walk";
import { phoneWords } from "./words";

/** Work is a piece of work that comes again: how it is done, and that it was. */
export function Work({ params: { cycle, work } }: PageProps) {
  const unitOf = (farm: View) => farm.units.find((u) => u.cycle_id === cycle);
  const found = (farm: View) => unitOf(farm)?.work.find((w) => w.key === work);
  return (
    <Gate title={(farm) => found(farm)?.name ?? phoneWords().todo.title}>
      {(farm) => {
        const [unit, one] = [unitOf(farm), found(farm)];
        return unit && one ? <Do farm={farm} unit={unit} work={one} /> : <p>{phoneWords().item.gone}</p>;
      }}
    </Gate>
  );
}

function Do({ farm, unit, work }: { farm: View; unit: TodayUnit; work: TodayWork }) {
  const words = phoneWords();
  const { route } = useLocation();
  const { busy, error, keep } = useKeeping();
  const done = () =>
    keep(
      () =>
        say({
          farm,
          kind: "work",
          data: { work: work.key },
          cycle: unit.cycle_id,
          what: words.work.what(work.name),
        }),
      () => route(walk.value),
    );
  const task = `work:${unit.cycle_id}:${work.key}`;
  return (
    <>
      <div class="phone-one">
        <NamedPicture of={work.drawing} />
        <p class="phone-ask">{work.how}</p>
      </div>
      {work.caution && (
        <p class="phone-caution">
          <strong>{words.item.caution}:</strong> {work.caution}
        </p>
      )}
      {error !== null && <Trouble error={error} />}
      <BigButton kind="main" busy={busy} picture={<Picture of="well" />} onClick={done}>
        {words.done}
      </BigButton>
      <Rows>
        <Row
          href={`/today/could-not/${encodeURIComponent(task)}`}
          picture={<Picture of="cannot" />}
          title={words.couldNot.title}
        />
      </Rows>
      <p>{words.work.every(work.every)}</p>
      <Listen text={`${work.name}. ${work.how} ${work.caution ?? ""}`} />
    </>
  );
}
