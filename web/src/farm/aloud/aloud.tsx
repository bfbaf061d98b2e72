import { useMemo, useRef, useState } from "preact/hooks";
import type { components } from "../../api/api.gen";
import { api } from "../../api/client";
import { useRead } from "../../api/read";
import { language } from "../../i18n/language";
import { Ask, rightText } from "../../learn/ask";
import { type Answer, ask, type Marks, mark } from "../../learn/draw";
import { bankOf, type Drawings, type LessonModule } from "../../learn/lessons";
import { learnWords } from "../../learn/words";
import { uuidv7 } from "../../offline/uuid";
import { Page } from "../../shell/page";
import type { PageProps } from "../../shell/page-list";
import { isoOf, today } from "../../time/day";
import { Button } from "../../ui/button";
import { Choice } from "../../ui/choice";
import { Shown } from "../../ui/shown";
import { Trouble } from "../../ui/states";

type Learner = components["schemas"]["LearnerRow"];
type Module = components["schemas"]["TodayModule"];
type Spoken = "en" | "fr";

interface Found {
  learner: Learner;
  module: Module;
  zone: string;
}

/** Aloud is a module's questions, read to a person who has no phone at hand; what the person says is entered. */
export function Aloud({ params }: PageProps) {
  const { id = "", person = "", enterprise = "", module = "" } = params;
  const words = learnWords().ask;
  const read = useRead(
    `aloud ${id} ${person} ${enterprise} ${module}`,
    async (signal): Promise<Found | null> => {
      const path = { id };
      const [training, farm] = await Promise.all([
        api.get("/api/farms/{id}/training", { path, query: { lang: language.peek() }, signal }),
        api.get("/api/farms/{id}", { path, signal }),
      ]);
      const learner = training.body.items.find((l) => l.person_id === person);
      const found = learner?.modules.find((m) => m.enterprise === enterprise && m.key === module);
      return learner && found ? { learner, module: found, zone: farm.body.branch.time_zone } : null;
    },
  );
  const found = read.value;
  return (
    <Page
      title={found ? words.title(found.module.name, found.learner.name) : words.short}
      back={`/farms/${encodeURIComponent(id)}#people`}
    >
      <Shown read={read}>
        {(value) => (value?.module.lessons ? <Begin farm={id} found={value} /> : <p>{words.none}</p>)}
      </Shown>
    </Page>
  );
}

function Begin({ farm, found }: { farm: string; found: Found }) {
  const words = learnWords();
  const { learner, module, zone } = found;
  const [spoken, setSpoken] = useState<Spoken>(learner.language === "fr" ? "fr" : "en");
  const { enterprise } = module;
  const read = useRead(`aloud lessons ${enterprise} ${spoken}`, async (signal) => {
    const path = { enterprise };
    const [lessons, drawings] = await Promise.all([
      api.get("/api/lessons/{enterprise}", { path, query: { lang: spoken }, signal }),
      api.get("/api/lessons/{enterprise}/drawings", { path, signal }),
    ]);
    const lesson = lessons.body.modules.find((m) => m.key === module.key);
    return { lesson, drawings: drawings.body.drawings as Drawings };
  });
  const wait = module.retake_on && module.retake_on > isoOf(today(zone)) ? module.retake_on : "";
  if (wait) return <p>{words.ask.retake(wait)}</p>;
  return (
    <>
      <p>{words.ask.how}</p>
      <Choice<Spoken>
        label={words.ask.language}
        options={[
          { value: "en", label: "English" },
          { value: "fr", label: "Français" },
        ]}
        value={spoken}
        onValue={setSpoken}
      />
      <Shown read={read}>
        {({ lesson, drawings }) =>
          lesson ? <Round {...{ farm, found, lesson, drawings, spoken }} /> : <p>{words.ask.none}</p>
        }
      </Shown>
    </>
  );
}

interface RoundProps {
  farm: string;
  found: Found;
  lesson: LessonModule;
  drawings: Drawings;
  spoken: Spoken;
}

// No verdict while asking: whoever asks must not give it away by the face.
function Round({ farm, found, lesson, drawings, spoken }: RoundProps) {
  const words = learnWords();
  const { learner, module, zone } = found;
  const seed = module.seed ?? 0;
  const bank = useMemo(() => bankOf(lesson), [lesson]);
  const asked = useMemo(() => ask(bank, seed), [bank, seed]);
  const [answers, setAnswers] = useState<Readonly<Record<string, Answer>>>({});
  const [at, setAt] = useState(0);
  const [marks, setMarks] = useState<Marks>();
  const [error, setError] = useState<unknown>(null);
  const [busy, setBusy] = useState(false);
  const top = useRef<HTMLParagraphElement>(null);
  const id = useRef(uuidv7()).current;
  const now = asked[at];
  const question = lesson.questions.find((q) => q.key === now?.question);
  const step = (to: number) => {
    setAt(to);
    top.current?.focus();
  };
  const keep = async () => {
    setBusy(true);
    setError(null);
    try {
      const data = {
        person_id: learner.person_id,
        enterprise: module.enterprise,
        module: module.key,
        version: lesson.version,
        seed,
        answers,
      };
      const body = { id, kind: "answers" as const, on: isoOf(today(zone)), data };
      await api.post("/api/farms/{id}/entries", { path: { id: farm }, body, key: id });
      setMarks(mark(bank, seed, answers));
    } catch (wrong) {
      setError(wrong);
    }
    setBusy(false);
  };
  if (marks) return <Result marks={marks} lesson={lesson} spoken={spoken} module={module} />;
  return (
    <>
      <p class="lesson-progress" ref={top} tabIndex={-1}>
        {question ? words.question(at + 1, asked.length) : words.ask.all(asked.length)}
      </p>
      {question && now ? (
        <div lang={spoken}>
          <Ask
            key={`${question.key} ${spoken}`}
            question={question}
            asked={now}
            drawings={drawings}
            onAnswer={(answer) => {
              setAnswers({ ...answers, [question.key]: answer });
              step(at + 1);
            }}
          />
        </div>
      ) : (
        <>
          {error !== null && <Trouble error={error} texts={words.ask.problems} />}
          <Button kind="main" busy={busy} onClick={() => void keep()}>
            {words.ask.done}
          </Button>
        </>
      )}
      <p class="buttons">
        {question && <Button onClick={() => step(at + 1)}>{words.ask.noAnswer}</Button>}
        {at > 0 && <Button onClick={() => step(at - 1)}>{words.ask.back}</Button>}
      </p>
    </>
  );
}

function Result({
  marks,
  lesson,
  spoken,
  module,
}: {
  marks: Marks;
  lesson: LessonModule;
  spoken: Spoken;
  module: Module;
}) {
  const words = learnWords();
  const wrong = lesson.questions.filter((q) => marks.wrong.includes(q.key));
  return (
    <section role="status">
      <h2>{marks.passed ? words.result.passed : words.result.failed}</h2>
      <p>
        {words.ask.kept} {words.result.right(marks.right, marks.asked)}
      </p>
      {marks.passed ? (
        <p>{module.checked_on ? words.ask.whole : words.ask.toShow}</p>
      ) : (
        <p>{words.result.need}</p>
      )}
      {wrong.length > 0 && (
        <>
          <h3>{words.ask.explain}</h3>
          <ul class="ruled" lang={spoken}>
            {wrong.map((q) => (
              <li key={q.key}>
                <strong>{q.ask}</strong>
                <span class="minor">{rightText(q)}</span>
                {q.why}
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
