import type { ComponentChildren } from "preact";
import { useEffect, useMemo } from "preact/hooks";
import { formats } from "../../i18n/format";
import { entries } from "../../offline/outbox";
import { Page } from "../../shell/page";
import { dayOf } from "../../time/day";
import { Button } from "../../ui/button";
import { SelectField } from "../../ui/choice";
import { Loading, Trouble } from "../../ui/states";
import { compose } from "./compose";
import { book, choose, chosen, follow, type Held, type TodayPage, today } from "./data";
import { todayOf } from "./entry";
import { learnAhead } from "./learn-later";
import { startMedia } from "./media";
import { overlay, type View } from "./overlay";
import { phoneWords } from "./words";
import "./phone.css";

/** Gate frames every page of the phone and hands it the farm, as soon as anything is known of one. */
export function Gate({
  title,
  back = "/today",
  home,
  children,
}: {
  title: string | ((farm: View) => string);
  back?: string;
  /** The first page: it has no way back, and says how old what it shows is. */
  home?: boolean;
  children: (farm: View) => ComponentChildren;
}) {
  useEffect(follow, []);
  useEffect(startMedia, []);
  const held = today.now();
  const farm = useView(held);
  useEffect(() => (farm ? learnAhead(farm) : undefined), [farm?.id, held.at]);
  const heading = typeof title === "string" ? title : farm ? title(farm) : phoneWords().title;
  return (
    <Page title={heading} {...(home ? {} : { back })}>
      {home && farm && <FarmLine farm={farm} all={held.value?.farms ?? []} />}
      {farm ? children(farm) : <Nothing held={held} />}
      {home && farm && <Age held={held} />}
    </Page>
  );
}

function useView({ value, at }: Held<TodayPage>): View | null {
  const outbox = entries.value;
  const farm = value?.farms.find((f) => f.id === chosen.value) ?? value?.farms[0];
  const on = farm && todayOf(farm);
  const packs = book.now().value?.packs;
  return useMemo(
    () => (farm && on ? overlay(compose(farm, packs ?? []), at?.toISOString() ?? "", on, outbox) : null),
    [farm, packs, at, on, outbox],
  );
}

function FarmLine({ farm, all }: { farm: View; all: readonly { id: string; name: string }[] }) {
  const { date } = formats();
  if (all.length < 2) {
    return (
      <p class="phone-farm">
        {farm.name}, {date(farm.on)}
      </p>
    );
  }
  const options = all.map((f) => ({ value: f.id, label: f.name }));
  return (
    <SelectField
      label={phoneWords().farm}
      options={options}
      value={farm.id}
      onValue={(id) => choose(id)}
      hint={date(farm.on)}
    />
  );
}

function Nothing({ held }: { held: Held<TodayPage> }) {
  const words = phoneWords();
  if (held.value) return <p>{words.noFarm}</p>;
  if (held.busy || !held.error) return <Loading />;
  return (
    <>
      <p>{words.never}</p>
      <Trouble error={held.error} retry={() => void today.bring()} />
    </>
  );
}

function Age({ held }: { held: Held<TodayPage> }) {
  const words = phoneWords();
  if (!held.at) return null;
  const old = dayOf(new Date()) - dayOf(held.at);
  const tooOld = old > (held.value?.ahead_days ?? 0);
  return (
    <p class="phone-age">
      {old > 0 ? words.asOfOld(held.at, old) : words.asOf(held.at)} {tooOld && words.tooOld}{" "}
      <Button kind="quiet" busy={held.busy} onClick={() => void today.bring()}>
        {words.again}
      </Button>
    </p>
  );
}
