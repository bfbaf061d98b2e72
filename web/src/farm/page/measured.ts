import type { PackItem } from "../../api/types";
import { formats } from "../../i18n/format";
import { pageWords } from "./words";

/** measureName is a measure as people write it. */
export function measureName(measure: string): string {
  return pageWords().measures[measure] ?? measure;
}

/** withMeasure writes a value with its measure. */
export function withMeasure(value: number, measure: string): string {
  if (measure === "ph") return `pH ${formats().number(value, 2)}`;
  return formats().measure(value, measureName(measure), 2);
}

/** rangeWords says between what a measured value must lie, "" where anything will do. */
export function rangeWords(measured: NonNullable<PackItem["measured"]>): string {
  const words = pageWords().checklist;
  const { low, high, measure } = measured;
  if (low !== undefined && high !== undefined)
    return words.within(formats().number(low, 2), withMeasure(high, measure));
  if (low !== undefined) return words.least(withMeasure(low, measure));
  return high === undefined ? "" : words.most(withMeasure(high, measure));
}
