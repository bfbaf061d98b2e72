import { useState } from "preact/hooks";
import type { Pack, UnitPage } from "../../api/types";
import { Button } from "../../ui/button";
import { linesOf } from "./build-lines";
import { ChangeBuild } from "./change-build";
import { leads } from "./context";
import { pageWords } from "./words";

/** BuildSheet shows what was built; what nobody knows is left out and counted at the end. */
export function BuildSheetView({ unit, pack }: { unit: UnitPage; pack: Pack | undefined }) {
  const [asked, ask] = useState(false);
  const words = pageWords().build;
  const lines = linesOf(unit.build, pack);
  const unknown = lines.filter((l) => !l.text).map((l) => l.label.toLowerCase());
  return (
    <section>
      <h3>{words.title}</h3>
      <dl class="facts">
        {lines
          .filter((l) => l.text)
          .map((l) => (
            <div key={l.key}>
              <dt>{l.label}</dt>
              <dd>{l.text}</dd>
            </div>
          ))}
        {unknown.length > 0 && (
          <div>
            <dt class="minor">{words.unknown}</dt>
            <dd class="minor">{unknown.join(", ")}</dd>
          </div>
        )}
      </dl>
      {unit.build.pump.value > 0 && <p class="caution">{words.pumpCare}</p>}
      {leads() && <Button onClick={() => ask(true)}>{words.change}</Button>}
      {asked && <ChangeBuild unit={unit} pack={pack} onClose={() => ask(false)} />}
    </section>
  );
}
