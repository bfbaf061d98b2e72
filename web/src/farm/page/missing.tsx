import type { Names } from "../reason";
import type { Missing } from "./steps";
import { pageWords } from "./words";

/** MissingList says what a go-ahead lacks, by kind: points to verify, training, readings. */
export function MissingList({ missing, names }: { missing: readonly Missing[]; names: Names }) {
  const words = pageWords();
  const kinds = [
    { code: "item-missing", title: words.milestones.items, name: (key: string) => names("item", key) },
    { code: "module-missing", title: words.milestones.modules, name: (key: string) => names("module", key) },
    {
      code: "reading-missing",
      title: words.milestones.readings,
      name: (key: string) => words.readingKinds[key],
    },
  ];
  return (
    <dl class="missing">
      {kinds.map(({ code, title, name }) => {
        const things = missing.filter((m) => m.code === code);
        return (
          things.length > 0 && (
            <div key={code}>
              <dt>{title}</dt>
              {things.map(({ thing }) => (
                <dd key={thing}>{name(thing) ?? thing.replace(/-/g, " ")}</dd>
              ))}
            </div>
          )
        );
      })}
    </dl>
  );
}
