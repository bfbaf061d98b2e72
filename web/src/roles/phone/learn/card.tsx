import { useEffect, useState } from "preact/hooks";
import { Drawing } from "../../../learn/drawing";
import type { LessonCard } from "../../../learn/lessons";
import { learnWords } from "../../../learn/words";
import type { PageProps } from "../../../shell/page-list";
import { Gate } from "../gate";
import { Row, Rows } from "../parts";
import { Picture } from "../pictures";
import { drawingsOf, keptVoices, lessonOf } from "./data";
import { Hear } from "./hear";
import { useContent } from "./module";
import "../../../learn/learn.css";

/** Card is one card of a module: a drawing, a few sentences, and the phone reads them. */
export function Card({ params: { enterprise = "", module = "", card = "1" } }: PageProps) {
  const words = learnWords();
  const at = `/today/module/${enterprise}/${module}`;
  useContent(enterprise);
  const lesson = lessonOf(enterprise, module);
  const cards = lesson?.cards ?? [];
  const n = Number(card);
  const shown = cards[n - 1];
  return (
    <Gate title={shown?.title ?? lesson?.name ?? words.title} back={at}>
      {() =>
        shown ? (
          <>
            <p class="lesson-progress">{words.card(n, cards.length)}</p>
            <CardBody enterprise={enterprise} module={module} card={shown} />
            <Rows>
              {n < cards.length ? (
                <Row href={`${at}/card/${n + 1}`} picture={<Picture of="step" />} title={words.next} />
              ) : (
                <Row href={at} picture={<Picture of="list" />} title={words.toQuestions} />
              )}
              {n > 1 && (
                <Row href={`${at}/card/${n - 1}`} picture={<Picture of="learn" />} title={words.before} />
              )}
            </Rows>
          </>
        ) : (
          <p>{words.notHere}</p>
        )
      }
    </Gate>
  );
}

/** CardBody is a card without its way on; `titled` where the title stands nowhere else. */
export function CardBody({
  enterprise,
  module,
  card,
  titled = false,
}: {
  enterprise: string;
  module: string;
  card: LessonCard;
  titled?: boolean;
}) {
  const [recording, setRecording] = useState<string>();
  useEffect(() => {
    let current = true;
    setRecording(undefined);
    if (card.voice) void keptVoices(enterprise, module).then((v) => current && setRecording(v?.[card.key]));
    return () => {
      current = false;
    };
  }, [enterprise, module, card]);
  return (
    <div class={card.safety ? "lesson-safety" : undefined}>
      <Drawing name={card.drawing} drawings={drawingsOf(enterprise)} />
      {titled && <h3>{card.title}</h3>}
      <p class="lesson-text">{card.text}</p>
      <Hear text={`${card.title}. ${card.text}`} recording={recording} />
    </div>
  );
}
