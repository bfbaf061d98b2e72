import { useEffect, useRef, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { useRead } from "../../../api/read";
import type { FarmPage } from "../../../api/types";
import { farmWords, type Standing as StandingName } from "../../../farm/words";
import { Standing } from "../../../marks/marks";
import type { PageProps } from "../../../shell/page-list";
import { Shown } from "../../../ui/shown";
import { CallForm } from "../call/call-form";
import type { Noted } from "../call/send-call";
import { Sent } from "../call/sent";
import { useAgain } from "../clock";
import { DeskPage } from "../desk-page";
import { deskWords } from "../words";
import { CallerLine } from "./caller-line";
import { CaretakerLine } from "./caretaker-line";
import { type BriefData, readBrief } from "./data";
import { Dotted } from "./line";
import { More } from "./more";
import { ScheduleLine } from "./schedule-line";
import { StockLine } from "./stock-line";
import { TalkLine } from "./talk-line";
import { TicketsLine } from "./tickets-line";

// The sweep of a farm follows a change of it within a moment.
const sweepTakes = 2_500;

/** Brief is a farm as one notebook page beside the call note: six lines that are always there, the rest by key. */
export function Brief({ params }: PageProps) {
  const id = params.id ?? "";
  const { query } = useLocation();
  const [times, setTimes] = useState(0);
  const brief = useRead(`brief ${id}`, async (signal) => {
    const found = await readBrief(id, signal);
    setTimes((n) => n + 1);
    return found;
  });
  useAgain(brief.again);
  const later = useRef<ReturnType<typeof setTimeout>>();
  useEffect(() => () => clearTimeout(later.current), []);
  const changed = () => {
    void brief.again();
    clearTimeout(later.current);
    later.current = setTimeout(() => void brief.again(), sweepTakes);
  };
  const farm = brief.value?.farm;
  return (
    <DeskPage title={farm?.name ?? farmWords().farm} writes aside={farm && <Where farm={farm} />}>
      <div class="bench brief">
        <div class="notebook">
          <Shown read={brief} texts={deskWords().call.problems}>
            {(data) => (
              <Notebook
                data={data}
                who={query.who ?? ""}
                phone={query.phone ?? ""}
                changed={changed}
                times={times}
              />
            )}
          </Shown>
        </div>
        <Note
          id={id}
          data={brief.value}
          who={query.who ?? ""}
          phone={query.phone ?? ""}
          carry={query.carry === "1"}
          changed={changed}
        />
      </div>
    </DeskPage>
  );
}

function Where({ farm }: { farm: FarmPage }) {
  const words = deskWords().brief;
  return (
    <p class="where">
      {farm.standing && <Standing standing={farm.standing as StandingName} />}
      <Dotted
        parts={[
          farm.town,
          farm.landmark,
          farm.client,
          words.branch(farm.branch.name),
          words.contract[farm.status],
          farm.watched_on === "" && words.notWatched,
        ]}
      />
    </p>
  );
}

interface NotebookProps {
  data: BriefData;
  who: string;
  phone: string;
  changed: () => void;
  times: number;
}

function Notebook({ data, who, phone, changed, times }: NotebookProps) {
  const { farm } = data;
  return (
    <section class="page-of-farm" aria-label={farm.name}>
      <dl class="six">
        <CallerLine farm={farm} who={who} phone={phone} />
        <ScheduleLine farm={farm} />
        <StockLine farm={farm} />
        <TicketsLine tickets={data.tickets} />
        <TalkLine data={data} />
        <CaretakerLine farm={farm} />
      </dl>
      <More data={data} changed={changed} times={times} />
    </section>
  );
}

interface NoteProps {
  id: string;
  /** undefined while it is being read: one may write already. */
  data: BriefData | undefined;
  who: string;
  phone: string;
  carry: boolean;
  changed: () => void;
}

function Note({ id, data, who, phone, carry, changed }: NoteProps) {
  const words = deskWords().call;
  const [noted, setNoted] = useState<Noted | null>(null);
  return (
    <section class="note" aria-label={words.title}>
      {noted ? (
        <Sent noted={noted} another={() => setNoted(null)} />
      ) : (
        <CallForm
          farmId={id}
          farm={data?.farm}
          tickets={data?.tickets ?? []}
          carry={carry}
          who={who}
          phone={phone}
          promises={data?.promises ?? []}
          onSent={(sent) => {
            setNoted(sent);
            changed();
          }}
        />
      )}
    </section>
  );
}
