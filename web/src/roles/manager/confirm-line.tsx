import { useId } from "preact/hooks";
import type { FindingRow, ToConfirmRow } from "../../api/types";
import { namesOf } from "../../farm/packs";
import { tellReasons } from "../../farm/told";
import { placeOf, useReasonNames } from "../../farm/visits/visit";
import { farmWords, type Standing as StandingName } from "../../farm/words";
import { Standing } from "../../marks/marks";
import { Button } from "../../ui/button";
import { useSending } from "../../ui/sending";
import { Trouble } from "../../ui/states";
import { managerWords } from "./words";

/** ConfirmLine is a farm that waits to be watched, with what the sweep found on it. */
export function ConfirmLine({
  farm,
  chosen,
  onChosen,
  watch,
}: {
  farm: ToConfirmRow;
  chosen: boolean;
  onChosen: (chosen: boolean) => void;
  watch: () => Promise<void>;
}) {
  const words = managerWords().confirm;
  const id = useId();
  const { busy, error, submit } = useSending(watch);
  return (
    <li class="confirm-line">
      <span class="check">
        <input
          id={id}
          type="checkbox"
          checked={chosen}
          aria-label={words.choose(farm.name)}
          onChange={(e) => onChosen(e.currentTarget.checked)}
        />
      </span>
      <div>
        <div class="need-head">
          <a class="need-farm" href={`/farms/${farm.id}`}>
            {farm.name}
          </a>
          <span class="minor-inline">{[placeOf(farm), farm.client].filter(Boolean).join(" · ")}</span>
          {farm.as_if_watched && (
            <span class="as-if">
              <span class="minor-inline">{words.asIf}</span>{" "}
              <Standing standing={farm.as_if_watched as StandingName} />
            </span>
          )}
        </div>
        {farm.findings.length === 0 ? (
          <p class="minor">{words.noFindings}</p>
        ) : (
          <ul class="reasons">
            {farm.findings.map((finding) => (
              <FindingLine
                key={`${finding.rule} ${finding.unit_id} ${finding.cycle_id} ${finding.subject}`}
                finding={finding}
                enterprise={farm.cycles.find((c) => c.cycle_id === finding.cycle_id)?.enterprise}
              />
            ))}
          </ul>
        )}
        {error !== null && <Trouble error={error} texts={managerWords().problems} />}
      </div>
      <Button busy={busy} onClick={submit} aria-label={words.watchOneOf(farm.name)}>
        {words.watchOne}
      </Button>
    </li>
  );
}

function FindingLine({ finding, enterprise }: { finding: FindingRow; enterprise: string | undefined }) {
  const words = managerWords().confirm;
  const rules: Record<string, string> = farmWords().rules;
  const people = useReasonNames(finding.reasons, enterprise);
  const told = tellReasons(finding.reasons, enterprise ? namesOf(enterprise, people) : people);
  const facts = [
    words.since(finding.since),
    finding.muted_by ? words.silenced((rules[finding.muted_by] ?? finding.muted_by).toLowerCase()) : "",
    finding.opens_ticket && !finding.muted_by ? words.opens : "",
  ];
  return (
    <li>
      <strong>{rules[finding.rule] ?? finding.rule}.</strong> {told.first}
      <span class="minor">{facts.filter(Boolean).join(" · ")}</span>
      {told.rest.length > 0 && (
        <details>
          <summary>{words.details(told.rest.length)}</summary>
          <ul>
            {told.rest.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </details>
      )}
    </li>
  );
}
