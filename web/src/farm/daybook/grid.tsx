import { useRef } from "preact/hooks";
import { formats } from "../../i18n/format";
import { language } from "../../i18n/language";
import { said } from "../packs";
import { measureName } from "../page/measured";
import { type Cell, type Column, changed, type Line } from "./sheet";
import { sheetWords } from "./words";

/** lineName is what a line is called, with its measure. */
export function lineName(line: Line): string {
  const words = sheetWords().entry;
  if (!line.field) return line.kind === "well" ? words.well : words.note;
  const name = said(line.field.name);
  const measure = line.field.measure ? measureName(line.field.measure) : "";
  return measure && measure !== name ? `${name} (${measure})` : name;
}

interface Grid {
  lines: readonly Line[];
  columns: readonly Column[];
  today: string;
  caption: string;
  read: (line: Line, column: Column) => Cell;
  onTyped: (on: string, line: Line, text: string) => void;
  onSave: () => void;
}

/**
 * Grid is the page as it was printed: a row a line, a column a day. Enter and
 * the arrows go from cell to cell, so that a page is typed without a mouse.
 */
export function Grid(grid: Grid) {
  const { lines, columns, caption } = grid;
  const words = sheetWords().entry;
  const table = useRef<HTMLTableElement>(null);
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === "Enter" && event.ctrlKey) {
      event.preventDefault();
      return grid.onSave();
    }
    const to = target(event, lines.length, columns.length);
    const cell = to && table.current?.querySelector<HTMLInputElement>(`[data-at="${to.join(":")}"]`);
    if (!cell || cell.disabled) return;
    event.preventDefault();
    cell.focus();
    cell.select();
  };
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard (WCAG 2.1.1)
    <section class="table-scroll" tabIndex={0} aria-label={caption}>
      <table class="sheet" ref={table} onKeyDown={onKeyDown}>
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">{words.what}</th>
            {columns.map((c) => (
              <th key={c.on} scope="col">
                <span class="sheet-weekday">{weekday(c.on)}</span>
                {formats()
                  .date(c.on)
                  .replace(/\s\d{4}$/, "")}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {lines.map((line, row) => (
            <Row key={line.key} {...grid} line={line} row={row} />
          ))}
          <tr class="sheet-states">
            <th scope="row">{words.state}</th>
            {columns.map((c) => (
              <td key={c.on}>{stateOf(c, grid.today)}</td>
            ))}
          </tr>
        </tbody>
      </table>
    </section>
  );
}

function Row({ line, row, columns, today, read, onTyped }: Grid & { line: Line; row: number }) {
  const words = sheetWords().entry;
  const name = lineName(line);
  const choices = line.field?.choices ?? [];
  return (
    <tr>
      <th scope="row">
        {name}
        {choices.length > 0 && (
          <span class="minor">{words.answers(choices.map((choice) => said(choice.name)))}</span>
        )}
      </th>
      {columns.map((column, at) => {
        const wrong = changed(column) && (read(line, column).wrong || column.refused[line.key]);
        const frame = {
          "data-at": `${row}:${at}`,
          "aria-label": words.cell(name, column.on),
          "aria-invalid": wrong ? ("true" as const) : undefined,
          disabled: column.on > today,
        };
        const text = column.typed[line.key] ?? "";
        return (
          <td key={column.on} class={wrong ? "sheet-wrong" : undefined}>
            {line.kind === "well" ? (
              <input
                {...frame}
                type="checkbox"
                checked={text !== ""}
                onChange={(e) => onTyped(column.on, line, e.currentTarget.checked ? "1" : "")}
              />
            ) : (
              <input
                {...frame}
                type="text"
                autoComplete="off"
                inputMode={line.kind === "count" || line.kind === "choice" ? "numeric" : "text"}
                maxLength={line.kind === "note" || line.kind === "text" ? 1000 : 20}
                value={text}
                onInput={(e) => onTyped(column.on, line, e.currentTarget.value)}
              />
            )}
          </td>
        );
      })}
    </tr>
  );
}

function weekday(on: string): string {
  return new Intl.DateTimeFormat(language.value, { weekday: "short", timeZone: "UTC" }).format(new Date(on));
}

function stateOf(column: Column, today: string): string {
  const { states } = sheetWords().entry;
  if (column.on > today) return states.ahead;
  if (Object.keys(column.refused).length > 0) return states.refused;
  if (changed(column)) return states.changed;
  if (column.kept) return states.kept;
  return column.before ? states.before : "";
}

// Where a key leads to: down and up along a day, over its end to the next; to
// the sides only where the caret has nowhere to go inside the cell.
function target(event: KeyboardEvent, rows: number, columns: number): [number, number] | null {
  const input = event.target as HTMLInputElement;
  const [row, at] = (input.dataset?.at ?? "").split(":").map(Number);
  if (row === undefined || at === undefined || event.altKey || event.metaKey || event.ctrlKey) return null;
  const step = (by: number): [number, number] | null => {
    const place = at * rows + row + by;
    return place < 0 || place >= rows * columns ? null : [place % rows, Math.floor(place / rows)];
  };
  const text = input.type === "text";
  switch (event.key) {
    case "Enter":
      return step(event.shiftKey ? -1 : 1);
    case "ArrowDown":
      return step(1);
    case "ArrowUp":
      return step(-1);
    case "ArrowRight":
      return (!text || input.selectionEnd === input.value.length) && at + 1 < columns ? [row, at + 1] : null;
    case "ArrowLeft":
      return (!text || input.selectionStart === 0) && at > 0 ? [row, at - 1] : null;
    default:
      return null;
  }
}
