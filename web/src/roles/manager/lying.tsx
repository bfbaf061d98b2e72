import type { Load, TicketLine } from "../../api/types";
import { tellReasons } from "../../farm/told";
import { useReasonNames } from "../../farm/visits/visit";
import { farmWords, type Urgency as UrgencyName } from "../../farm/words";
import { formats } from "../../i18n/format";
import { Urgency } from "../../marks/marks";
import { Table } from "../../ui/table";
import { managerWords } from "./words";

/** Lying lists the tickets that are past their time and that nobody has touched. */
export function Lying({ tickets }: { tickets: Load["left_lying"] }) {
  const words = managerWords().load;
  const names = useReasonNames(tickets.flatMap((t) => t.reasons));
  const rules: Record<string, string> = farmWords().rules;
  const about = (t: TicketLine) => t.title || tellReasons(t.reasons, names).first || rules[t.rule] || t.rule;
  return (
    <section aria-label={words.lying}>
      <h2>{words.lying}</h2>
      {tickets.length === 0 ? (
        <p class="empty">{words.noLying}</p>
      ) : (
        <Table
          caption={words.lyingHint}
          columns={[
            { key: "number", head: words.number, cell: (t) => t.number },
            {
              key: "urgency",
              head: words.urgency,
              cell: (t) => <Urgency urgency={t.urgency as UrgencyName} />,
            },
            {
              key: "farm",
              head: words.farm,
              cell: (t) => <a href={`/farms/${t.farm_id}#tickets`}>{t.farm}</a>,
            },
            { key: "about", head: words.about, cell: about },
            { key: "due", head: words.due, cell: (t) => formats().dateTime(t.plan_by) },
            { key: "holder", head: words.holder, cell: (t) => t.holder || words.nobody },
          ]}
          rows={tickets}
          keyOf={(t) => t.id}
        />
      )}
    </section>
  );
}
