import { useEffect, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import type { LessonModule } from "../../../learn/lessons";
import { learnWords } from "../../../learn/words";
import type { PageProps } from "../../../shell/page-list";
import { Trouble } from "../../../ui/states";
import { say } from "../entry";
import { Gate } from "../gate";
import type { Learning, View } from "../overlay";
import { BigButton, Row, Rows, useKeeping } from "../parts";
import { Picture } from "../pictures";
import { phoneWords } from "../words";
import { bringVoices, contentOf, keptVoices, lessonOf, moduleOf, openRound, retakeOn, seedOf } from "./data";
import { standingOf } from "./standing";

/** Module is one module: where the caretaker stands, and the way to its cards and questions. */
export function Module({ params: { enterprise, module } }: PageProps) {
  const found = (farm: View) => moduleOf(farm, enterprise, module);
  useContent(enterprise);
  return (
    <Gate title={(farm) => found(farm)?.name ?? phoneWords().module.title} back="/today/modules">
      {(farm) => {
        const m = found(farm);
        if (!m) return <p>{phoneWords().item.gone}</p>;
        if (!m.lessons) return <FromPaper farm={farm} module={m} />;
        const lesson = lessonOf(m.enterprise, m.key);
        return lesson ? <Whole farm={farm} module={m} lesson={lesson} /> : <p>{learnWords().notHere}</p>;
      }}
    </Gate>
  );
}

/** useContent brings an enterprise's words and drawings, which are on the phone as a rule. */
export function useContent(enterprise = ""): void {
  useEffect(() => {
    const { lessons, drawings } = contentOf(enterprise);
    void lessons.bring().then(drawings.bring);
  }, [enterprise]);
}

function Whole({ farm, module, lesson }: { farm: View; module: Learning; lesson: LessonModule }) {
  const words = learnWords();
  const at = `/today/module/${module.enterprise}/${module.key}`;
  return (
    <>
      <p>{standingOf(module, farm.on).text}</p>
      <Rows>
        <Row
          href={`${at}/card/1`}
          picture={<Picture of="learn" />}
          title={words.learn}
          note={words.cards(lesson.cards.length)}
        />
        <Questions farm={farm} module={module} lesson={lesson} at={at} />
      </Rows>
      <Recordings module={module} lesson={lesson} />
      <h2>{words.tasks}</h2>
      <p>{words.tasksHow}</p>
      <ul>
        {lesson.tasks.map((t) => (
          <li key={t.key}>{t.text}</li>
        ))}
      </ul>
    </>
  );
}

function Questions({
  farm,
  module,
  lesson,
  at,
}: {
  farm: View;
  module: Learning;
  lesson: LessonModule;
  at: string;
}) {
  const words = learnWords();
  const begun = useBegun(module, lesson);
  const wait = retakeOn(module, farm.on);
  if (wait) return <li class="phone-note">{words.retake(wait)}</li>;
  const first = begun ? words.goOn : words.answer(lesson.draw);
  return (
    <Row
      href={`${at}/questions`}
      picture={<Picture of="list" />}
      title={module.failed_on && !begun ? words.again : first}
      {...(module.failed_on && module.waits ? { note: words.waits } : {})}
    />
  );
}

function useBegun(module: Learning, lesson: LessonModule): boolean {
  const [begun, setBegun] = useState(false);
  const seed = seedOf(module);
  useEffect(() => {
    let current = true;
    void openRound(module.enterprise, lesson, seed).then(
      (round) => current && setBegun(Object.keys(round.answers).length > 0),
    );
    return () => {
      current = false;
    };
  }, [module.enterprise, lesson, seed]);
  return begun;
}

function Recordings({ module, lesson }: { module: Learning; lesson: LessonModule }) {
  const words = learnWords();
  const [here, setHere] = useState(false);
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<unknown>(null);
  useEffect(() => {
    void keptVoices(module.enterprise, module.key).then((voices) => setHere(!!voices));
  }, [module.enterprise, module.key]);
  if (!lesson.voice_bytes) return null;
  const bring = () => {
    setBusy(true);
    setError(null);
    bringVoices(module.enterprise, module.key)
      .then(() => setHere(true), setError)
      .finally(() => setBusy(false));
  };
  return (
    <>
      {error !== null && <Trouble error={error} />}
      {here ? (
        <p>{words.voicesHere}</p>
      ) : (
        <BigButton busy={busy} picture={<Picture of="sent" />} onClick={bring}>
          {words.voices}
          <span class="phone-note">{words.size(lesson.voice_bytes)}</span>
        </BigButton>
      )}
      <p class="phone-note">{words.voicesNote}</p>
    </>
  );
}

// A module that a pack teaches from paper: the caretaker says so, the practical check comes from the firm.
function FromPaper({ farm, module }: { farm: View; module: Learning }) {
  const words = learnWords().paper;
  const { route } = useLocation();
  const { busy, error, keep } = useKeeping();
  const { enterprise, key } = module;
  const what = words.what(module.name);
  const mark = () =>
    keep(
      () => say({ farm, kind: "module-read", data: { enterprise, module: key }, what }),
      () => route("/today/modules"),
    );
  return (
    <>
      {module.lapsed_on && <p>{words.lapsed(module.lapsed_on)}</p>}
      {module.read_on ? <p>{words.read(module.read_on)}</p> : <p>{words.how}</p>}
      {error !== null && <Trouble error={error} />}
      {!module.read_on && (
        <BigButton kind="main" busy={busy} picture={<Picture of="well" />} onClick={mark}>
          {words.mark}
        </BigButton>
      )}
    </>
  );
}
