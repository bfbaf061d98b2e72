import { namesOf } from "../farm/packs";
import { Table } from "../ui/table";
import type { QuestionRow } from "./types";
import { trainingWords } from "./words";

/** Questions shows how often each was answered wrongly, how sure that is, and which to rewrite. */
export function Questions({ questions }: { questions: readonly QuestionRow[] }) {
  const words = trainingWords();
  const failing = questions.filter((q) => q.rewrite).length;
  return (
    <div class="captioned">
      <h2>{words.questions}</h2>
      <p class="minor">{words.questionsHint}</p>
      {questions.length === 0 ? (
        <p class="empty">{words.noQuestions}</p>
      ) : (
        <>
          <p>{failing > 0 ? words.rewrite(failing) : words.noRewrite}</p>
          <Table
            caption={words.questions}
            columns={[
              { key: "question", head: words.question, cell: (q) => <Ask question={q} /> },
              {
                key: "module",
                head: words.module,
                cell: (q) => namesOf(q.enterprise)("module", q.module) ?? q.module,
              },
              { key: "wrong", head: words.wrong, number: true, cell: (q) => words.wrongOf(q.wrong, q.asked) },
              { key: "share", head: words.share, number: true, cell: (q) => words.percent(q.share) },
              {
                key: "interval",
                head: words.interval,
                number: true,
                cell: (q) => words.between(q.low, q.high),
              },
              {
                key: "todo",
                head: words.todo,
                cell: (q) => (q.rewrite ? <strong>{words.toRewrite}</strong> : words.keep),
              },
            ]}
            rows={questions}
            keyOf={(q) => `${q.enterprise} ${q.module} ${q.question}`}
          />
        </>
      )}
    </div>
  );
}

function Ask({ question }: { question: QuestionRow }) {
  return (
    <>
      {question.ask}
      {question.safety && <span class="minor">{trainingWords().safety}</span>}
    </>
  );
}
