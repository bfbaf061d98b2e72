import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { DeskPage } from "../desk-page";
import { deskWords } from "../words";
import { Attach } from "./attach";
import { CallForm } from "./call-form";
import { FromPhone } from "./from-phone";
import type { Noted } from "./send-call";
import { Sent } from "./sent";

/** CallWithoutFarm notes a call whose farm nobody knows yet; it can be put on a farm's record later. */
export function CallWithoutFarm() {
  const { query } = useLocation();
  const words = deskWords().call;
  const [noted, setNoted] = useState<Noted | null>(null);
  const [unknown, setUnknown] = useState(false);
  if (query.attach) {
    return (
      <DeskPage title={words.attachTitle}>
        <Attach key={query.attach} id={query.attach} />
      </DeskPage>
    );
  }
  if (query.from && !unknown) {
    return (
      <DeskPage title={words.fromTitle(query.from)} writes>
        <FromPhone key={query.from} from={query.from} unknown={() => setUnknown(true)} />
      </DeskPage>
    );
  }
  return (
    <DeskPage title={words.noFarm} writes>
      <section class="note note-alone" aria-label={words.title}>
        <p>{words.findFarm}</p>
        {noted ? (
          <Sent noted={noted} another={() => setNoted(null)} />
        ) : (
          <CallForm
            farmId=""
            farm={undefined}
            tickets={[]}
            who=""
            begin={query.name ? `${query.name}: ` : ""}
            phone={query.phone ?? query.from ?? ""}
            promises={[]}
            onSent={setNoted}
          />
        )}
      </section>
    </DeskPage>
  );
}
