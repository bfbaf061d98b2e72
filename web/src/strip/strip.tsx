import { useMemo } from "preact/hooks";
import { farmWords } from "../farm/words";
import { formats } from "../i18n/format";
import type { Span, Strip as StripData } from "./data";
import { type Geometry, layOut, type Mark } from "./geometry";
import { sentenceOf } from "./sentence";
import "./strip.css";
import { useWidth } from "./width";

const rowHeight = 17;
const lineHeight = 22;
const laneHeight = 14;
const scaleHeight = 20;

/** StripView draws a cycle in full: names above the line, bands in lanes under it, the months below. */
export function StripView({ strip }: { strip: StripData }) {
  const [ref, width] = useWidth<HTMLElement>(720);
  const drawn = useMemo(() => layOut(strip, { width, letter: 7.2, rows: 3 }), [strip, width]);
  const words = farmWords();
  const line = drawn.rows * rowHeight + lineHeight / 2;
  const under = line + lineHeight / 2;
  const bottom = under + drawn.lanes * laneHeight;
  const height = bottom + scaleHeight;
  return (
    <figure class="strip" ref={ref}>
      <svg viewBox={`0 0 ${width} ${height}`} width="100%" role="img" aria-label={sentenceOf(strip, words)}>
        <Months drawn={drawn} top={line} bottom={bottom} />
        <line class="strip-line" x1={drawn.line.x1} x2={drawn.line.x2} y1={line} y2={line} />
        {drawn.marks.map((mark) => (
          <MarkDrawing key={mark.key} mark={mark} line={line} lane={under + mark.lane * laneHeight} />
        ))}
        {drawn.marks.map((mark) => (
          <Name key={mark.key} mark={mark} line={line} rows={drawn.rows} />
        ))}
        {drawn.today !== null && (
          <g class="strip-today">
            <line x1={drawn.today} x2={drawn.today} y1={line - 8} y2={height - 14} />
            <text x={drawn.today} y={height - 2} text-anchor="middle">
              {words.strip.today}
            </text>
          </g>
        )}
      </svg>
      <figcaption>
        {strip.slip !== undefined && <strong class="strip-slip">{words.harvestSlip(strip.slip)}</strong>}
        <Legend />
      </figcaption>
    </figure>
  );
}

/** StripRow draws a cycle small, for a row of a list: the next milestone, the harvest and what is done. */
export function StripRow({ strip, axis, width = 260 }: { strip: StripData; axis?: Span; width?: number }) {
  const drawn = useMemo(() => {
    const room = { width, letter: 0, rows: 0, ...(axis ? { axis } : {}) };
    return layOut(few(strip), room);
  }, [strip, axis, width]);
  const words = farmWords();
  return (
    <span class="strip-row">
      <svg
        viewBox={`0 0 ${width} 20`}
        width={width}
        height="20"
        role="img"
        aria-label={sentenceOf(strip, words)}
      >
        <line class="strip-line" x1={drawn.line.x1} x2={drawn.line.x2} y1="10" y2="10" />
        {drawn.marks.map((mark) => (
          <MarkDrawing key={mark.key} mark={mark} line={10} lane={5} />
        ))}
        {drawn.today !== null && (
          <line class="strip-today" x1={drawn.today} x2={drawn.today} y1="0" y2="20" />
        )}
      </svg>
      {strip.slip !== undefined && <span class="strip-slip">{words.slip(strip.slip)}</span>}
    </span>
  );
}

// A row has no lanes, so only what matters for the harvest keeps its band.
function few(strip: StripData): StripData {
  const next = strip.milestones.find((m) => m.state === "open")?.key;
  const shown = strip.milestones.filter(
    (m) => m.state === "done" || m.key === next || m.key === strip.harvest,
  );
  return {
    ...strip,
    milestones: shown.map((m) => (m.key === strip.harvest ? m : { ...m, window: undefined })),
  };
}

function MarkDrawing({ mark, line, lane }: { mark: Mark; line: number; lane: number }) {
  const middle = lane + 5;
  return (
    <g>
      {mark.band && (
        <rect
          class="strip-band"
          x={mark.band.x1}
          y={lane}
          width={Math.max(mark.band.x2 - mark.band.x1, 2)}
          height="10"
        />
      )}
      {mark.whisker && (
        <path class="strip-whisker" d={`M${mark.whisker.x1} ${middle - 3}v6m0-3H${mark.whisker.x2}m0-3v6`} />
      )}
      {mark.x !== null && mark.kind === "done" && (
        <line class="strip-done" x1={mark.x} x2={mark.x} y1={Math.min(line - 6, lane)} y2={lane + 10} />
      )}
      {mark.x !== null && mark.kind === "forecast" && (
        <rect
          class="strip-open"
          x={mark.x - 2.5}
          y={Math.min(line - 6, lane)}
          width="5"
          height={lane + 10 - Math.min(line - 6, lane)}
        />
      )}
    </g>
  );
}

function Name({ mark, line, rows }: { mark: Mark; line: number; rows: number }) {
  if (!mark.label) return null;
  const y = (rows - mark.label.row) * rowHeight - 5;
  return (
    <g class="strip-name">
      <line x1={mark.label.x} x2={mark.label.x} y1={y + 3} y2={line - 6} />
      <text x={mark.label.x} y={y} text-anchor={mark.label.anchor}>
        {mark.name}
      </text>
    </g>
  );
}

function Months({ drawn, top, bottom }: { drawn: Geometry; top: number; bottom: number }) {
  const { month } = formats();
  const room = (drawn.line.x2 - drawn.line.x1) / Math.max(drawn.months.length, 1);
  return (
    <g class="strip-months">
      {drawn.months.map((m) => (
        <g key={`${m.year}-${m.month}`}>
          <line x1={m.x} x2={m.x} y1={m.month === 1 ? top : bottom} y2={bottom + 4} />
          {room > 14 && (
            <text x={m.x + 2} y={bottom + 14}>
              {m.month === 1 ? m.year : month(m.month, room < 34)}
            </text>
          )}
        </g>
      ))}
    </g>
  );
}

/** Legend explains the marks of a strip; one a page is enough. */
export function Legend() {
  const { legend } = farmWords().strip;
  return (
    <span class="strip-legend">
      <svg width="22" height="12" aria-hidden="true">
        <rect class="strip-band" x="1" y="1" width="20" height="10" />
      </svg>
      {legend.band}
      <svg width="8" height="14" aria-hidden="true">
        <line class="strip-done" x1="4" x2="4" y1="0" y2="14" />
      </svg>
      {legend.done}
      <svg width="32" height="14" aria-hidden="true">
        <path class="strip-whisker" d="M1 4v6m0-3H31m0-3v6" />
        <rect class="strip-open" x="12" y="1" width="5" height="12" />
      </svg>
      {legend.forecast}
      <svg width="6" height="14" aria-hidden="true">
        <line class="strip-today" x1="3" x2="3" y1="0" y2="14" />
      </svg>
      {legend.today}
    </span>
  );
}
