import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { Ask, rightText } from "../../../learn/ask";
import { type Answer, ask, holds, type Marks, mark } from "../../../learn/draw";
import { bankOf, cardOf, type LessonModule, type LessonQuestion } from "../../../learn/lessons";
import { learnWords } from "../../../learn/words";
import type { PageProps } from "../../../shell/page-list";
import { isoOf, parseDay } from "../../../time/day";
import { Loading, Trouble } from "../../../ui/states";
import { say } from "../entry";
import { Gate } from "../gate";
import type { Learning, View } from "../overlay";
import { BigButton, Row, Rows, useKeeping } from "../parts";
import { Picture } from "../pictures";
import { phoneWords } from "../words";
import { CardBody } from "./card";
import { drawingsOf, keepRound, lessonOf, moduleOf, openRound, type Round, retakeOn, seedOf } from "./data";
import { useContent } from "./module";

/** Questions is a round of questions, from the first to what came of them. */
export function Questions({ params: { enterprise = "", module = "" } }: PageProps) {
  const words = learnWords();
  const at = `/today/module/${enterprise}/${module}`;
  useContent(enterprise);
  const lesson = lessonOf(enterprise, module);
  return (
    <Gate title={lesson?.name ?? words.title} back={at}>
      {(farm) => {
        const m = moduleOf(farm, enterprise, module);
        if (!m) return <p>{phoneWords().item.gone}</p>;
        return lesson ? <Under farm={farm} module={m} lesson={lesson} /> : <p>{words.notHere}</p>;
      }}
    </Gate>
  );
}

interface Here {
  farm: View;
  module: Learning;
  lesson: LessonModule;
}

// The round is held to what the module was when the page opened: once it is
// kept, the module moves on to the next.
function Under({ farm, module, lesson }: Here) {
  const [round, setRound] = useState<Round>();
  const [first] = useState({ module, lesson });
  useEffect(() => {
    void openRound(first.module.enterprise, first.lesson, seedOf(first.module)).then(setRound);
  }, [first]);
  const [marks, setMarks] = useState<Marks>();
  if (!round) return <Loading />;
  if (marks) return <Result {...{ farm, lesson: first.lesson, module: first.module, marks }} />;
  const wait = retakeOn(first.module, farm.on);
  if (wait) return <p>{learnWords().retake(wait)}</p>;
  return (
    <OneByOne
      {...{ farm, lesson: first.lesson, module: first.module, round }}
      onRound={setRound}
      onMarks={setMarks}
    />
  );
}

function OneByOne({
  farm,
  module,
  lesson,
  round,
  onRound,
  onMarks,
}: Here & { round: Round; onRound: (round: Round) => void; onMarks: (marks: Marks) => void }) {
  const words = learnWords();
  const bank = useMemo(() => bankOf(lesson), [lesson]);
  const asked = useMemo(() => ask(bank, round.seed), [bank, round.seed]);
  const open = asked.findIndex((a) => !round.answers[a.question]);
  // What was just answered is looked at before the next is asked.
  const [looking, setLooking] = useState<number | null>(open === -1 ? asked.length - 1 : null);
  const { busy, error, keep } = useKeeping();
  const at = looking ?? open;
  const now = asked[at];
  const question = lesson.questions.find((q) => q.key === now?.question);
  const top = useFocus(`${at} ${looking}`);
  if (!now || !question) return null;
  const answer = (given: Answer) => {
    const next = { ...round, answers: { ...round.answers, [question.key]: given } };
    onRound(next);
    setLooking(at);
    void keepRound(module.enterprise, module.key, next);
  };
  const goOn = () => {
    if (open !== -1) return setLooking(null);
    const marks = mark(bank, round.seed, round.answers);
    keep(
      () => say({ farm, kind: "answers", data: dataOf(module, round, marks), what: words.what(module.name) }),
      () => onMarks(marks),
    );
  };
  return (
    <>
      <p class="lesson-progress" ref={top} tabIndex={-1}>
        {words.question(at + 1, asked.length)}
      </p>
      <progress value={at + (looking === null ? 0 : 1)} max={asked.length} aria-hidden="true" />
      {looking === null ? (
        <Ask question={question} asked={now} drawings={drawingsOf(module.enterprise)} onAnswer={answer} />
      ) : (
        <>
          <Verdict {...{ module, lesson, question }} answer={round.answers[question.key] ?? {}} />
          {error !== null && <Trouble error={error} />}
          <BigButton kind="main" busy={busy} picture={<Picture of="step" />} onClick={goOn}>
            {words.next}
          </BigButton>
        </>
      )}
    </>
  );
}

const dataOf = (module: Learning, round: Round, marks: Marks) => ({
  enterprise: module.enterprise,
  module: module.key,
  version: round.version,
  seed: round.seed,
  answers: round.answers,
  told: marks.passed,
});

// A new question begins where it is read, for the eye and for a screen reader.
function useFocus(key: string) {
  const element = useRef<HTMLParagraphElement>(null);
  const first = useRef(true);
  useEffect(() => {
    if (!first.current) element.current?.focus();
    first.current = false;
  }, [key]);
  return element;
}

function Verdict({
  module,
  lesson,
  question,
  answer,
}: {
  module: Learning;
  lesson: LessonModule;
  question: LessonQuestion;
  answer: Answer;
}) {
  const words = learnWords();
  const bank = bankOf(lesson).questions.find((q) => q.key === question.key);
  if (bank && holds(bank, answer)) {
    return (
      <>
        <h2>{question.ask}</h2>
        <p class="verdict" role="status">
          <Picture of="well" /> {words.right}
        </p>
      </>
    );
  }
  const card = cardOf(lesson, question);
  return (
    <>
      <h2>{question.ask}</h2>
      <p class="verdict" role="status">
        <Picture of="cannot" /> {words.wrong} {rightText(question)}
      </p>
      <p>{question.why}</p>
      {question.safety && <p>{words.safetyWrong}</p>}
      {card && <CardBody enterprise={module.enterprise} module={module.key} card={card} titled />}
    </>
  );
}

function Result({ farm, module, lesson, marks }: Here & { marks: Marks }) {
  const words = learnWords();
  const at = `/today/module/${module.enterprise}/${module.key}`;
  const top = useRef<HTMLHeadingElement>(null);
  useEffect(() => top.current?.focus(), []);
  return (
    <>
      <h2 ref={top} tabIndex={-1}>
        {marks.passed ? words.result.passed : words.result.failed}
      </h2>
      <p>{words.result.right(marks.right, marks.asked)}</p>
      {marks.passed ? (
        <ToCome module={module} lesson={lesson} />
      ) : (
        <>
          <p>{words.result.need}</p>
          <p>
            {module.waits ? words.result.atOnce : words.result.tomorrow(isoOf((parseDay(farm.on) ?? 0) + 1))}
          </p>
        </>
      )}
      {marks.wrong.length > 0 && <Wrong lesson={lesson} wrong={marks.wrong} />}
      <Rows>
        <Row href={at} picture={<Picture of="learn" />} title={words.toModule} />
      </Rows>
    </>
  );
}

function ToCome({ module, lesson }: { module: Learning; lesson: LessonModule }) {
  const words = learnWords();
  if (module.checked_on) return <p>{words.result.checked}</p>;
  return (
    <>
      <p>{words.result.now}</p>
      <ul>
        {lesson.tasks.map((t) => (
          <li key={t.key}>{t.text}</li>
        ))}
      </ul>
    </>
  );
}

function Wrong({ lesson, wrong }: { lesson: LessonModule; wrong: readonly string[] }) {
  const questions = lesson.questions.filter((q) => wrong.includes(q.key));
  return (
    <>
      <p>{learnWords().result.learn}</p>
      <ul>
        {questions.map((q) => (
          <li key={q.key}>
            {q.ask} {q.why}
          </li>
        ))}
      </ul>
    </>
  );
}
