import { formats } from "../i18n/format";
import { useWidth } from "../strip/width";
import type { Day } from "../time/day";
import { scaleOf } from "./scale";
import "./chart.css";

/** A Column is a day with what was counted on it, in parts that are stacked. */
export interface Column {
  on: Day;
  parts: readonly number[];
}

const height = 160;
const left = 32;
const top = 10;
const bottom = 24;

/**
 * Columns draws counts by day as stacked columns. Parts are told apart by
 * pattern as well as by shade; a table of the same stands beside it.
 */
export function Columns({
  label,
  columns,
  limit,
  limitWords,
}: {
  label: string;
  columns: readonly Column[];
  limit?: number;
  limitWords?: string;
}) {
  const [ref, width] = useWidth<HTMLDivElement>(560);
  const { number, shortDate } = formats();
  const total = (column: Column) => column.parts.reduce((sum, n) => sum + n, 0);
  const values = scaleOf(Math.max(limit ?? 0, ...columns.map(total)), 4, height - bottom, top);
  const room = (width - left) / Math.max(columns.length, 1);
  const every = Math.max(1, Math.ceil(columns.length / Math.floor((width - left) / 56)));
  return (
    <div class="chart" ref={ref}>
      <svg viewBox={`0 0 ${width} ${height}`} width="100%" role="img" aria-label={label}>
        {values.ticks.map((tick) => (
          <g key={tick} class="chart-tick">
            <line x1={left} x2={width} y1={values.at(tick)} y2={values.at(tick)} />
            <text x={left - 6} y={values.at(tick) + 4} text-anchor="end">
              {number(tick, 1)}
            </text>
          </g>
        ))}
        {columns.map((column, i) => (
          <g key={column.on}>
            <Stack parts={column.parts} x={left + i * room + room * 0.15} width={room * 0.7} at={values.at} />
            {i % every === 0 && (
              <text x={left + (i + 0.5) * room} y={height - 6} text-anchor={anchorAt(i, columns.length)}>
                {shortDate(column.on)}
              </text>
            )}
          </g>
        ))}
        {limit !== undefined && (
          <g class="chart-goal">
            <line x1={left} x2={width} y1={values.at(limit)} y2={values.at(limit)} />
            <text x={left + 4} y={values.at(limit) - 4}>
              {limitWords}
            </text>
          </g>
        )}
      </svg>
    </div>
  );
}

// The names of the first and the last day stay inside the drawing.
function anchorAt(i: number, all: number): "start" | "middle" | "end" {
  return i === 0 ? "start" : i === all - 1 ? "end" : "middle";
}

function Stack({
  parts,
  x,
  width,
  at,
}: {
  parts: readonly number[];
  x: number;
  width: number;
  at: (value: number) => number;
}) {
  let below = 0;
  return (
    <>
      {parts.map((part, i) => {
        const y = at(below + part);
        const tall = at(below) - y;
        below += part;
        return (
          part > 0 && (
            <rect
              key={`part-${i}`}
              class={`chart-part chart-part-${i}`}
              x={x}
              y={y}
              width={width}
              height={tall}
            />
          )
        );
      })}
    </>
  );
}
