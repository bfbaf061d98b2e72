import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import type { PageProps } from "../../shell/page-list";
import { NumberField } from "../../ui/number-field";
import { Trouble } from "../../ui/states";
import type { TodayItem } from "./compose";
import { type Answer, say } from "./entry";
import { Gate } from "./gate";
import { Attach } from "./media";
import { answerOf, type View } from "./overlay";
import { BigButton, Listen, OtherDay, Row, Rows, useFields, useKeeping, type Words } from "./parts";
import { Picture } from "./pictures";
import { phoneWords } from "./words";

type Checklist = NonNullable<View["units"][number]["checklists"]>[number];

function listOf(farm: View, cycle: string | undefined, key: string | undefined): Checklist | undefined {
  return farm.units.find((u) => u.cycle_id === cycle)?.checklists?.find((l) => l.key === key);
}

/** List shows what a checklist asks for; what was looked at goes to its end. */
export function List({ params: { cycle, list } }: PageProps) {
  return (
    <Gate title={(farm) => listOf(farm, cycle, list)?.name ?? phoneWords().todo.title}>
      {(farm) => (
        <Items items={listOf(farm, cycle, list)?.items ?? []} base={`/today/item/${cycle}/${list}`} />
      )}
    </Gate>
  );
}

function Items({ items, base }: { items: readonly TodayItem[]; base: string }) {
  const words = phoneWords();
  const open = items.filter((i) => !i.mark);
  const marked = items.filter((i) => i.mark);
  return (
    <>
      <p>{open.length === 0 ? words.item.all : words.todo.list(open.length, items.length)}</p>
      <Rows>
        {[...open, ...marked].map((item) => (
          <Row
            key={item.key}
            kind={item.mark ? "done" : "plain"}
            href={`${base}/${item.key}`}
            picture={<Picture of={item.mark ? (item.mark.answer === "no" ? "cannot" : "well") : "open"} />}
            title={item.text}
            note={item.mark && saidOf(item)}
          />
        ))}
      </Rows>
    </>
  );
}

function saidOf(item: TodayItem): string {
  const words = phoneWords().item;
  const mark = item.mark;
  if (!mark) return "";
  const answer = words[mark.answer as Answer] ?? mark.answer;
  return mark.grade === "word" ? words.now(answer, mark.on) : words.sawIt(answer, mark.on);
}

/** Item asks one thing, and goes on to the next one that is open. */
export function Item({ params: { cycle, list, item } }: PageProps) {
  const back = `/today/list/${cycle}/${list}`;
  return (
    <Gate title={(farm) => listOf(farm, cycle, list)?.name ?? phoneWords().todo.title} back={back}>
      {(farm) => {
        const items = listOf(farm, cycle, list)?.items ?? [];
        const found = items.find((i) => i.key === item);
        const next = items.find((i) => !i.mark && i.key !== item);
        if (!found || !cycle) return <p>{phoneWords().item.gone}</p>;
        return (
          <Ask
            farm={farm}
            cycle={cycle}
            item={found}
            next={next ? `/today/item/${cycle}/${list}/${next.key}` : back}
          />
        );
      }}
    </Gate>
  );
}

interface Asked {
  farm: View;
  cycle: string;
  item: TodayItem;
  next: string;
}

function Ask({ farm, cycle, item, next }: Asked) {
  const words = phoneWords().item;
  const { route } = useLocation();
  const [said, setSaid] = useState<Words>({ on: farm.on, note: "" });
  const [media, setMedia] = useState<string[]>([]);
  const { busy, error, keep } = useKeeping();
  const { box, needed, complete } = useFields();
  const answer = (given: { answer?: Answer; value?: number }, needs = true) => {
    if (!complete(needs)) return;
    const note = said.note.trim();
    const data = {
      item: item.key,
      ...given,
      ...(note ? { note } : {}),
      ...(media.length > 0 ? { media } : {}),
    };
    const heard = words[given.answer ?? answerOf(item, given.value)];
    keep(
      () => say({ farm, kind: "item", data, on: said.on, cycle, what: words.asWhat(item.text, heard) }),
      () => route(next),
    );
  };
  return (
    <div ref={box}>
      <p class="phone-ask">{item.text}</p>
      {item.caution && (
        <p class="phone-caution">
          <strong>{words.caution}:</strong> {item.caution}
        </p>
      )}
      {error !== null && <Trouble error={error} />}
      <Attach
        farm={farm.id}
        slot={`${cycle} ${item.key}`}
        asks={item.suffices !== "word"}
        onMedia={setMedia}
      />
      {item.measured ? (
        <Value
          item={item}
          busy={busy}
          needed={needed}
          onValue={(value) => answer(value === null ? {} : { value }, value !== null)}
        />
      ) : (
        <>
          <BigButton
            kind="main"
            busy={busy}
            picture={<Picture of="well" />}
            onClick={() => answer({ answer: "yes" })}
          >
            {words.yes}
          </BigButton>
          <BigButton busy={busy} picture={<Picture of="cannot" />} onClick={() => answer({ answer: "no" })}>
            {words.no}
          </BigButton>
        </>
      )}
      <BigButton busy={busy} onClick={() => answer({ answer: "not-needed" })}>
        {words["not-needed"]}
      </BigButton>
      {item.mark && <p>{saidOf(item)}</p>}
      {item.suffices !== "word" && <p>{words.staff}</p>}
      {item.help && (
        <section class="phone-help">
          <h2>{words.how}</h2>
          <p>{item.help}</p>
        </section>
      )}
      <Listen text={`${item.text} ${item.help ?? ""}`} />
      <OtherDay farm={farm} said={said} onSaid={setSaid} />
    </div>
  );
}

function Value({
  item,
  busy,
  needed,
  onValue,
}: {
  item: TodayItem;
  busy: boolean;
  needed: (empty: boolean) => string | undefined;
  onValue: (value: number | null) => void;
}) {
  const { item: words, measures, save } = phoneWords();
  const [value, setValue] = useState<number | null>(item.mark?.value ?? null);
  const measured = item.measured;
  if (!measured) return null;
  const of = measures[measured.measure] ?? measured.measure;
  return (
    <>
      <NumberField
        label={words.value}
        hint={words.range(measured.low, measured.high, of)}
        measure={of}
        value={value}
        onValue={setValue}
        min={measured.least}
        max={measured.most}
        error={needed(value === null)}
      />
      <BigButton kind="main" busy={busy} picture={<Picture of="well" />} onClick={() => onValue(value)}>
        {save}
      </BigButton>
    </>
  );
}
