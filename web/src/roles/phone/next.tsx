import { useState } from "preact/hooks";
import { Gate } from "./gate";
import type { View } from "./overlay";
import { BigButton, Progress, Row, Rows, Well } from "./parts";
import { NamedPicture, Picture } from "./pictures";
import { type Task, tasksOf } from "./tasks";
import { walk } from "./walk";
import { phoneWords } from "./words";

/** OneByOne shows one task a screen, the first that is open and was not put off. */
export function OneByOne() {
  return <Gate title={phoneWords().todo.title}>{(farm) => <Current farm={farm} />}</Gate>;
}

function Current({ farm }: { farm: View }) {
  const words = phoneWords().todo;
  const [later, setLater] = useState<readonly string[]>([]);
  const open = tasksOf(farm).filter((t) => !t.done);
  const task = open.find((t) => !later.includes(t.id));
  return (
    <>
      <Progress farm={farm} open={open.length} />
      {task ? (
        <One farm={farm} task={task} onLater={() => setLater([...later, task.id])} />
      ) : (
        <p class="phone-kept">
          <Picture of="well" /> {later.length > 0 ? words.restLater : words.allDone}
        </p>
      )}
    </>
  );
}

function One({ farm, task, onLater }: { farm: View; task: Task; onLater: () => void }) {
  const words = phoneWords();
  walk.value = "/today/next";
  return (
    <>
      <div class="phone-one">
        <NamedPicture of={task.picture} />
        <h2>{task.title}</h2>
        {task.note && <p class="phone-note">{task.note}</p>}
      </div>
      {task.id === "day" && <Well farm={farm} />}
      <Rows>
        <Row href={task.href} picture={<Picture of="step" />} title={words.todo.goThere} />
        {task.canFail && (
          <Row
            href={task.id === "day" ? "/today/could-not" : `/today/could-not/${encodeURIComponent(task.id)}`}
            picture={<Picture of="cannot" />}
            title={words.couldNot.title}
          />
        )}
      </Rows>
      <BigButton onClick={onLater}>{words.todo.later}</BigButton>
    </>
  );
}
