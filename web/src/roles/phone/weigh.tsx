import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { judge } from "../../daybook/judge";
import { sampleOf } from "../../daybook/sample";
import { formats } from "../../i18n/format";
import { language } from "../../i18n/language";
import type { PageProps } from "../../shell/page-list";
import { parseNumber } from "../../ui/number";
import { Trouble } from "../../ui/states";
import type { TodayUnit } from "./compose";
import { say } from "./entry";
import { Gate } from "./gate";
import type { View } from "./overlay";
import { BigButton, OtherDay, useKeeping } from "./parts";
import { Picture } from "./pictures";
import { walk } from "./walk";
import { phoneWords } from "./words";

/** Weigh leads through a sample, one animal a step, and says its mean and spread. */
export function Weigh({ params: { cycle } }: PageProps) {
  const found = (farm: View) => farm.units.find((u) => u.cycle_id && u.cycle_id === cycle);
  return (
    <Gate title={phoneWords().weigh.title}>
      {(farm) => {
        const unit = found(farm);
        return unit ? <Sample farm={farm} unit={unit} /> : <p>{phoneWords().item.gone}</p>;
      }}
    </Gate>
  );
}

function Sample({ farm, unit }: { farm: View; unit: TodayUnit }) {
  const [weights, setWeights] = useState<readonly number[]>([]);
  const [over, setOver] = useState(false);
  const enough = over || weights.length >= unit.weighing.animals;
  const add = (w: number) => setWeights([...weights, w]);
  const undo = () => {
    setWeights(weights.slice(0, -1));
    setOver(false);
  };
  return enough ? (
    <Result farm={farm} unit={unit} weights={weights} onUndo={undo} />
  ) : (
    <One
      key={weights.length}
      unit={unit}
      weights={weights}
      onWeight={add}
      onUndo={undo}
      onStop={() => setOver(true)}
    />
  );
}

interface Step {
  unit: TodayUnit;
  weights: readonly number[];
  onWeight: (weight: number) => void;
  onUndo: () => void;
  onStop: () => void;
}

function One({ unit, weights, onWeight, onUndo, onStop }: Step) {
  const words = phoneWords();
  const [typed, setTyped] = useState("");
  const [asked, setAsked] = useState(false);
  const value = parseNumber(typed, language.value);
  const ruling = value === null ? null : judge(unit.weighing.bounds, value);
  const impossible = ruling?.verdict === "impossible";
  const go = () => {
    if (value === null || impossible) return;
    if (ruling?.verdict === "unlikely" && !asked) return setAsked(true);
    onWeight(value);
  };
  const type = (text: string) => {
    setAsked(false);
    setTyped(text);
  };
  return (
    <>
      <p class="phone-ask">{words.weigh.step(weights.length + 1, unit.weighing.animals)}</p>
      {weights.length === 0 && <p>{words.weigh.how}</p>}
      <progress
        class="phone-bar"
        max={unit.weighing.animals}
        value={weights.length}
        aria-label={words.weigh.title}
      />
      <output class="phone-scale" aria-live="polite">
        {typed || "–"} <span class="measure">g</span>
      </output>
      {impossible && <p role="alert">{words.weigh.impossible}</p>}
      {asked && value !== null && <p role="alert">{words.weigh.sure(value)}</p>}
      <Pad typed={typed} onTyped={type} />
      <BigButton kind="main" picture={<Picture of="weigh" />} onClick={go}>
        {asked ? words.daybook.right : words.item.next}
      </BigButton>
      {weights.length > 0 && (
        <p class="phone-pair">
          <button type="button" class="button button-plain" onClick={onUndo}>
            {words.weigh.undo}
          </button>
          <button type="button" class="button button-plain" onClick={onStop}>
            {words.weigh.stop}
          </button>
        </p>
      )}
    </>
  );
}

const longest = 7;

// Large keys of our own: a phone's keyboard is small for a wet thumb.
function Pad({ typed, onTyped }: { typed: string; onTyped: (text: string) => void }) {
  const words = phoneWords().weigh;
  const comma = language.value === "fr" ? "," : ".";
  const press = (key: string) => typed.length < longest && onTyped(typed + key);
  const keys = ["1", "2", "3", "4", "5", "6", "7", "8", "9", comma, "0"];
  return (
    <div class="phone-pad">
      {keys.map((key) => (
        <button
          key={key}
          type="button"
          class="button button-plain"
          disabled={key === comma && typed.includes(comma)}
          aria-label={key === comma ? words.comma : undefined}
          onClick={() => press(key)}
        >
          {key}
        </button>
      ))}
      <button
        type="button"
        class="button button-plain"
        aria-label={words.back}
        onClick={() => onTyped(typed.slice(0, -1))}
      >
        ←
      </button>
    </div>
  );
}

function Result({
  farm,
  unit,
  weights,
  onUndo,
}: {
  farm: View;
  unit: TodayUnit;
  weights: readonly number[];
  onUndo: () => void;
}) {
  const words = phoneWords();
  const { route } = useLocation();
  const { measure, list, number } = formats();
  const [said, setSaid] = useState({ on: farm.on, note: "" });
  const { busy, error, keep } = useKeeping();
  const { n, mean, sd } = sampleOf(weights);
  const what = words.reading.whatWeight(n, mean);
  const save = () =>
    keep(
      () =>
        say({
          farm,
          kind: "weights",
          data: { weights_g: [...weights] },
          on: said.on,
          cycle: unit.cycle_id,
          what,
        }),
      () => route(walk.value),
    );
  return (
    <>
      <p class="phone-ask">{words.weigh.mean(n, measure(mean, "g", 1))}</p>
      {n > 1 && (
        <p>{words.weigh.spread(measure(Math.max(0, mean - sd), "g", 1), measure(mean + sd, "g", 1))}</p>
      )}
      <p class="phone-note">{list(weights.map((w) => number(w, 1)))}</p>
      {error !== null && <Trouble error={error} />}
      <BigButton kind="main" busy={busy} picture={<Picture of="weigh" />} onClick={save}>
        {words.save}
      </BigButton>
      <BigButton onClick={onUndo}>{words.weigh.undo}</BigButton>
      <OtherDay farm={farm} said={said} onSaid={setSaid} note={false} />
    </>
  );
}
