import "./chart.css";

/** Bar is a share of a whole as a length, for a cell of a table that has the number too. */
export function Bar({ share }: { share: number }) {
  const width = 120 * Math.min(Math.max(share, 0), 1);
  return (
    <svg class="bar" viewBox="0 0 120 12" width="120" height="12" aria-hidden="true">
      <rect class="bar-all" x="0.5" y="0.5" width="119" height="11" />
      <rect class="bar-part" x="0" y="0" width={width} height="12" />
    </svg>
  );
}
