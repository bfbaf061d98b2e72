import { useState } from "preact/hooks";
import type { ProjectionPage } from "../../api/types";
import { formats } from "../../i18n/format";
import { Button } from "../../ui/button";
import { NumberField } from "../../ui/number-field";
import { projectionWords } from "./words";

/** Query is what the server is asked: the plan, or assumptions beside it. */
export interface Query {
  market_g?: number;
  every_days?: number;
  parents?: number;
  thin?: boolean;
  price_animal?: number;
  cost_month?: number;
  cost_once?: number;
}

/** plan asks for no change. */
export const plan: Query = {};

/** WhatIf lets an assumption be changed beside the plan; money only when prices are entered. */
export function WhatIf({ found, ask }: { found: ProjectionPage; ask: (query: Query) => void }) {
  const words = projectionWords().whatIf;
  const { assumed, money } = found;
  const { number } = formats();
  const [market, setMarket] = useState<number | null>(assumed.market_g);
  const [every, setEvery] = useState<number | null>(assumed.every_days);
  const [parents, setParents] = useState<number | null>(assumed.parents);
  const [thin, setThin] = useState(assumed.thin);
  const [price, setPrice] = useState<number | null>(null);
  const [month, setMonth] = useState<number | null>(null);
  const [once, setOnce] = useState<number | null>(null);
  const see = (event: Event) => {
    event.preventDefault();
    ask({
      ...(market ? { market_g: market } : {}),
      ...(every !== null ? { every_days: every } : {}),
      ...(parents !== null ? { parents } : {}),
      ...(thin ? { thin } : {}),
      ...(price ? { price_animal: price } : {}),
      ...(price && month ? { cost_month: month } : {}),
      ...(price && once ? { cost_once: once } : {}),
    });
  };
  return (
    <section aria-labelledby="what-if">
      <h2 id="what-if">{words.title}</h2>
      <p class="minor">{words.hint}</p>
      {money && <p>{words.money(number(money.low.net), number(money.likely.net), number(money.high.net))}</p>}
      <form class="projection-form no-print" onSubmit={see}>
        <NumberField
          label={words.market}
          value={market}
          onValue={setMarket}
          measure="g"
          min={1}
          max={100000}
        />
        <NumberField
          label={words.every}
          value={every}
          onValue={setEvery}
          measure={words.days}
          min={0}
          max={3650}
          whole
        />
        <NumberField
          label={words.parents}
          value={parents}
          onValue={setParents}
          min={0}
          max={10000000}
          whole
        />
        <label class="projection-tick">
          <input type="checkbox" checked={thin} onChange={(e) => setThin(e.currentTarget.checked)} />{" "}
          {words.thin}
        </label>
        <NumberField
          label={words.price}
          hint={words.currency}
          value={price}
          onValue={setPrice}
          min={0}
          max={1000000000}
          whole
        />
        <NumberField
          label={words.month}
          hint={words.currency}
          value={month}
          onValue={setMonth}
          min={0}
          max={1000000000}
          whole
        />
        <NumberField
          label={words.once}
          hint={words.currency}
          value={once}
          onValue={setOnce}
          min={0}
          max={1000000000}
          whole
        />
        <div class="projection-buttons">
          <Button type="submit">{words.see}</Button>
          {(assumed.changed || money) && (
            <Button kind="quiet" onClick={() => ask(plan)}>
              {words.back}
            </Button>
          )}
        </div>
      </form>
    </section>
  );
}
