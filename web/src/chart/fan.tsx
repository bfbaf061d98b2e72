import { useMemo } from "preact/hooks";
import { formats } from "../i18n/format";
import { useWidth } from "../strip/width";
import type { Day } from "../time/day";
import { monthsBetween, nameOfMonth } from "./months";
import { scaleOf } from "./scale";
import "./chart.css";
import "./fan.css";

/** A FanDot is a day with the most likely value and the band about it. */
export interface FanDot {
  on: Day;
  low: number;
  likely: number;
  high: number;
}

const height = 220;
const left = 48;
const right = 10;
const top = 12;
const bottom = 24;

/**
 * Fan draws a band over days with the most likely value as a line in it, and
 * a line at what the unit can carry where there is one. The band is outlined,
 * so that it prints in black and white; a table of the same stands beside it.
 */
export function Fan({
  label,
  dots,
  limit,
  limitWords,
}: {
  label: string;
  dots: readonly FanDot[];
  limit?: number;
  limitWords?: string;
}) {
  const [ref, width] = useWidth<HTMLDivElement>(560);
  const drawn = useMemo(() => layOut(dots, limit, width), [dots, limit, width]);
  const { number } = formats();
  const path = (points: readonly Point[]) => points.map((p) => `${p.x},${p.y}`).join(" ");
  return (
    <div class="chart" ref={ref}>
      <svg viewBox={`0 0 ${width} ${height}`} width="100%" role="img" aria-label={label}>
        {drawn.values.ticks.map((tick) => (
          <g key={tick} class="chart-tick">
            <line x1={left} x2={width - right} y1={drawn.values.at(tick)} y2={drawn.values.at(tick)} />
            <text x={left - 6} y={drawn.values.at(tick) + 4} text-anchor="end">
              {number(tick, 1)}
            </text>
          </g>
        ))}
        {drawn.months.map((m) => (
          <text key={m.first} class="chart-month" x={m.x + 2} y={height - 6}>
            {nameOfMonth(m, drawn.tight)}
          </text>
        ))}
        <polygon class="fan-band" points={path([...drawn.high, ...[...drawn.low].reverse()])} />
        {limit !== undefined && (
          <g class="chart-goal">
            <line x1={left} x2={width - right} y1={drawn.values.at(limit)} y2={drawn.values.at(limit)} />
            <text x={width - right} y={drawn.values.at(limit) - 4} text-anchor="end">
              {limitWords}
            </text>
          </g>
        )}
        <polyline class="chart-line" points={path(drawn.likely)} />
      </svg>
    </div>
  );
}

interface Point {
  x: number;
  y: number;
}

function layOut(dots: readonly FanDot[], limit: number | undefined, width: number) {
  const from = dots[0]?.on ?? 0;
  const to = Math.max(dots[dots.length - 1]?.on ?? 0, from + 28);
  const x = (on: Day) => left + ((on - from) / (to - from)) * (width - left - right);
  const values = scaleOf(Math.max(limit ?? 0, ...dots.map((d) => d.high)), 4, height - bottom, top);
  const line = (of: (d: FanDot) => number) => dots.map((d) => ({ x: x(d.on), y: values.at(of(d)) }));
  // A name begun in the last days would run out of the picture.
  const months = monthsBetween(from, to - 12).map((m) => ({ ...m, x: x(m.first) }));
  return {
    values,
    months,
    tight: months.length > 0 && (width - left) / months.length < 34,
    low: line((d) => d.low),
    likely: line((d) => d.likely),
    high: line((d) => d.high),
  };
}
