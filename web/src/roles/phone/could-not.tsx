import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import type { PageProps } from "../../shell/page-list";
import { Trouble } from "../../ui/states";
import { couldNotReasons, type Reason, say } from "./entry";
import { Gate } from "./gate";
import type { View } from "./overlay";
import { BigButton, OtherDay, useFields, useKeeping } from "./parts";
import { Picture } from "./pictures";
import { tasksOf } from "./tasks";
import { walk } from "./walk";
import { phoneWords } from "./words";

const reasonPictures = {
  "no-feed": "feed",
  "no-water": "tap",
  rain: "rain",
  ill: "ill",
  other: "other",
} as const;

/** CouldNot says that the day's work, or one task of it, was not done, and why; the firm sees a reason, not a gap. */
export function CouldNot({ params }: PageProps) {
  const task = params.task ? decodeURIComponent(params.task) : "";
  return <Gate title={phoneWords().couldNot.title}>{(farm) => <WhyNot farm={farm} task={task} />}</Gate>;
}

function WhyNot({ farm, task }: { farm: View; task: string }) {
  const words = phoneWords().couldNot;
  const { route } = useLocation();
  const [said, setSaid] = useState({ on: farm.on, note: "" });
  const { busy, error, keep } = useKeeping();
  const { box, complete } = useFields();
  const about = tasksOf(farm).find((t) => t.id === task)?.title;
  const because = (reason: Reason) => {
    if (!complete(true)) return;
    const note = said.note.trim();
    const data = { reason, ...(task ? { task } : {}), ...(note ? { note } : {}) };
    const what = words.what(said.on, about ? `${about}, ${words.reasons[reason]}` : words.reasons[reason]);
    keep(
      () => say({ farm, kind: "could-not", data, on: said.on, what }),
      () => route(walk.value),
    );
  };
  return (
    <div ref={box}>
      {about && <p class="phone-ask">{about}</p>}
      <p>{words.ask}</p>
      {error !== null && <Trouble error={error} />}
      {couldNotReasons.map((reason) => (
        <BigButton
          key={reason}
          busy={busy}
          picture={<Picture of={reasonPictures[reason]} />}
          onClick={() => because(reason)}
        >
          {words.reasons[reason]}
        </BigButton>
      ))}
      <OtherDay farm={farm} said={said} onSaid={setSaid} />
    </div>
  );
}
