import type { FarmPage } from "../../../api/types";
import { packOf, said } from "../../../farm/packs";
import { SelectField } from "../../../ui/choice";
import { deskWords } from "../words";
import type { PartProps } from "./call-form";
import { CardWalk } from "./card/card-walk";
import { cardOf, useCards } from "./card/cards";
import { type Sign, withSign } from "./draft";

/** A FarmSign is a sign with the enterprise whose pack has it. */
interface FarmSign {
  enterprise: string;
  sign: Sign;
}

/** signsOf are the signs that can be seen on a farm: those of the packs of its units, danger to people first. */
export function signsOf(farm: FarmPage): FarmSign[] {
  const enterprises = [...new Set(farm.units.map((u) => u.enterprise))];
  const all = enterprises.flatMap((enterprise) =>
    (packOf(enterprise)?.signs ?? []).map((sign) => ({ enterprise, sign })),
  );
  const once = all.filter((s, i) => all.findIndex((other) => other.sign.key === s.sign.key) === i);
  return once.sort((a, b) => Number(b.sign.danger) - Number(a.sign.danger));
}

/**
 * SignField names what the caller sees, and then what to say first: the advice of the pack, before anybody types one.
 * It stands there while the farm is still being read, so that the Tab key leads to the same field whatever the network does.
 */
export function SignField({ farm, draft, set }: PartProps) {
  const words = deskWords().call;
  const signs = farm ? signsOf(farm) : [];
  const find = (key: string) => signs.find((s) => s.sign.key === key)?.sign;
  const sign = find(draft.sign);
  const enterprise = signs.find((s) => s.sign.key === draft.sign)?.enterprise;
  const card = enterprise ? cardOf(enterprise, draft.sign) : undefined;
  useCards(farm?.units.map((u) => u.enterprise) ?? []);
  const text = (of: Sign) => said(of.text).replace(/\.$/, "");
  return (
    <>
      <SelectField
        label={words.sign}
        optional
        blank={words.signNone}
        options={signs.map((s) => ({ value: s.sign.key, label: text(s.sign) }))}
        value={draft.sign as ""}
        onValue={(key) => set(withSign(draft, find(key), text, sign))}
      />
      {sign && card && enterprise ? (
        <CardWalk
          farm={farm}
          draft={draft}
          set={set}
          enterprise={enterprise}
          card={card}
          name={text(sign)}
          onSign={(key) => set(withSign(draft, find(key), text, sign))}
        />
      ) : (
        sign && <FirstWords sign={sign} caution={cautionOf(signs, sign)} />
      )}
    </>
  );
}

function cautionOf(signs: readonly FarmSign[], sign: Sign): string {
  const enterprise = signs.find((s) => s.sign.key === sign.key)?.enterprise ?? "";
  const caution = sign.caution && packOf(enterprise)?.cautions[sign.caution];
  return caution ? said(caution) : "";
}

function FirstWords({ sign, caution }: { sign: Sign; caution: string }) {
  const words = deskWords().call;
  return (
    <div class={sign.danger ? "first-words first-words-danger" : "first-words"} role="status">
      <p>
        <b>{words.say}:</b> {said(sign.first_words)}
      </p>
      <p class="field-hint">
        {said(sign.likely) && (
          <>
            {words.likely}: {said(sign.likely)}{" "}
          </>
        )}
        {caution}
      </p>
    </div>
  );
}
