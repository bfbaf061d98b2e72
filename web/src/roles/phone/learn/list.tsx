import { learnWords } from "../../../learn/words";
import { Gate } from "../gate";
import type { Learning, View } from "../overlay";
import { Row, Rows } from "../parts";
import { Picture } from "../pictures";
import { phoneWords } from "../words";
import { standingOf } from "./standing";

/** Modules are what the caretaker has to learn, and what else can be learned. */
export function Modules() {
  return (
    <Gate title={phoneWords().module.title}>
      {(farm) => (
        <>
          <Group title={learnWords().toLearn} modules={farm.modules} farm={farm} />
          <Group title={learnWords().others} modules={farm.more_modules} farm={farm} />
          {farm.modules.length + farm.more_modules.length === 0 && <p>{learnWords().none}</p>}
        </>
      )}
    </Gate>
  );
}

function Group({ title, modules, farm }: { title: string; modules: readonly Learning[]; farm: View }) {
  const words = learnWords();
  if (modules.length === 0) return null;
  return (
    <section aria-label={title}>
      <h2>{title}</h2>
      <Rows>
        {modules.map((m) => {
          const { done, text } = standingOf(m, farm.on);
          return (
            <Row
              key={m.enterprise + m.key}
              kind={done ? "done" : "plain"}
              href={`/today/module/${m.enterprise}/${m.key}`}
              picture={<Picture of={done ? "well" : "learn"} />}
              title={m.name}
              note={[text, m.safety && words.safety].filter(Boolean).join(", ")}
            />
          );
        })}
      </Rows>
    </section>
  );
}
