import type { ComponentChildren } from "preact";
import "./table.css";

/** A Column of a table; numbers stand to the right. */
export interface Column<Row> {
  key: string;
  head: string;
  cell: (row: Row) => ComponentChildren;
  number?: boolean;
}

/**
 * Table shows rows of like things. The first column names the row. Where the
 * screen is narrower than the table, it scrolls by itself, by keyboard too.
 */
export function Table<Row>({
  caption,
  columns,
  rows,
  keyOf,
  empty,
}: {
  caption: string;
  columns: readonly Column<Row>[];
  rows: readonly Row[];
  keyOf: (row: Row) => string;
  /** What to say when there are no rows. */
  empty?: ComponentChildren;
}) {
  const cellClass = (c: Column<Row>) => (c.number ? "number" : undefined);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard (WCAG 2.1.1)
    <section class="table-scroll" tabIndex={0} aria-label={caption}>
      <table class="table">
        <caption>{caption}</caption>
        <thead>
          <tr>
            {columns.map((c) => (
              <th key={c.key} scope="col" class={cellClass(c)}>
                {c.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={keyOf(row)}>
              {columns.map((c, i) =>
                i === 0 ? (
                  <th key={c.key} scope="row" class={cellClass(c)}>
                    {c.cell(row)}
                  </th>
                ) : (
                  <td key={c.key} class={cellClass(c)}>
                    {c.cell(row)}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length === 0 && empty}
    </section>
  );
}
