import { useMemo } from "preact/hooks";
import { formats } from "../i18n/format";
import { useWidth } from "../strip/width";
import type { Day } from "../time/day";
import { monthsBetween, nameOfMonth } from "./months";
import { scaleOf } from "./scale";
import "./chart.css";

/** A Dot is one value on one day. */
export interface Dot {
  on: Day;
  value: number;
}

const height = 170;
const left = 40;
const right = 10;
const top = 12;
const bottom = 24;

/**
 * LineChart draws values over days, from nought up, with a line at the goal
 * where there is one. A table of the same stands beside it.
 */
export function LineChart({
  label,
  dots,
  goal,
  goalWords,
  digits = 0,
}: {
  label: string;
  dots: readonly Dot[];
  goal?: number | undefined;
  goalWords?: string;
  digits?: number;
}) {
  const [ref, width] = useWidth<HTMLDivElement>(420);
  const drawn = useMemo(() => layOut(dots, goal, width), [dots, goal, width]);
  const { number } = formats();
  return (
    <div class="chart" ref={ref}>
      <svg viewBox={`0 0 ${width} ${height}`} width="100%" role="img" aria-label={label}>
        {drawn.values.ticks.map((tick) => (
          <g key={tick} class="chart-tick">
            <line x1={left} x2={width - right} y1={drawn.values.at(tick)} y2={drawn.values.at(tick)} />
            <text x={left - 6} y={drawn.values.at(tick) + 4} text-anchor="end">
              {number(tick, digits + 1)}
            </text>
          </g>
        ))}
        {drawn.months.map((m) => (
          <g key={m.first} class="chart-tick">
            <line x1={m.x} x2={m.x} y1={height - bottom} y2={height - bottom + 4} />
            <text x={m.x + 2} y={height - 6}>
              {nameOfMonth(m, drawn.tight)}
            </text>
          </g>
        ))}
        {goal !== undefined && (
          <g class="chart-goal">
            <line x1={left} x2={width - right} y1={drawn.values.at(goal)} y2={drawn.values.at(goal)} />
            <text x={width - right} y={drawn.values.at(goal) - 4} text-anchor="end">
              {goalWords}
            </text>
          </g>
        )}
        <polyline class="chart-line" points={drawn.points.map((p) => `${p.x},${p.y}`).join(" ")} />
        {drawn.points.map((p) => (
          <circle key={`${p.on}-${p.value}`} class="chart-dot" cx={p.x} cy={p.y} r="3.5" />
        ))}
      </svg>
    </div>
  );
}

function layOut(dots: readonly Dot[], goal: number | undefined, width: number) {
  const sorted = [...dots].sort((a, b) => a.on - b.on);
  const from = sorted[0]?.on ?? 0;
  const to = Math.max(sorted[sorted.length - 1]?.on ?? 0, from + 28);
  const x = (on: Day) => left + ((on - from) / (to - from)) * (width - left - right);
  const largest = Math.max(goal ?? 0, ...sorted.map((d) => d.value));
  const values = scaleOf(largest, 4, height - bottom, top);
  const months = monthsBetween(from, to).map((m) => ({ ...m, x: x(m.first) }));
  return {
    values,
    months,
    tight: months.length > 0 && (width - left) / months.length < 34,
    points: sorted.map((d) => ({ ...d, x: x(d.on), y: values.at(d.value) })),
  };
}
