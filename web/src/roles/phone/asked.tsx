import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { formats } from "../../i18n/format";
import type { PageProps } from "../../shell/page-list";
import { TextArea } from "../../ui/field";
import { Trouble } from "../../ui/states";
import type { TodayRequest } from "./data";
import { say } from "./entry";
import { Gate } from "./gate";
import { Attach } from "./media";
import type { View } from "./overlay";
import { BigButton, Listen, Row, Rows, useKeeping } from "./parts";
import { Picture } from "./pictures";
import { walk } from "./walk";
import { phoneWords } from "./words";

/** Asked is something that the firm asks for: it is done, or it could not be done. */
export function Asked({ params: { id } }: PageProps) {
  const words = phoneWords();
  return (
    <Gate title={words.asked.title}>
      {(farm) => {
        const request = farm.requests.find((r) => r.id === id);
        return request ? <Answer farm={farm} request={request} /> : <p>{words.item.gone}</p>;
      }}
    </Gate>
  );
}

function Answer({ farm, request }: { farm: View; request: TodayRequest }) {
  const words = phoneWords();
  const { route } = useLocation();
  const { busy, error, keep } = useKeeping();
  const [note, setNote] = useState("");
  const [media, setMedia] = useState<string[]>([]);
  const unit = farm.units.length > 1 && farm.units.find((u) => u.id === request.unit_id)?.name;
  const told = [unit, words.asked.by(request.by, request.due_on), request.number].filter(Boolean).join(" · ");
  const done = () => {
    const said = note.trim();
    const data = {
      request: request.id,
      ...(said ? { note: said } : {}),
      ...(media.length > 0 ? { media } : {}),
    };
    keep(
      () => say({ farm, kind: "request", data, what: words.work.what(request.text) }),
      () => route(walk.value),
    );
  };
  return (
    <>
      <p class="phone-ask">{request.text}</p>
      <p class="phone-note">{told}</p>
      {request.due_on < farm.on && (
        <p class="phone-caution">{words.asked.late(formats().date(request.due_on))}</p>
      )}
      <TextArea label={words.note} value={note} onValue={setNote} maxLength={1000} optional />
      <Attach farm={farm.id} slot={`request ${request.id}`} voice onMedia={setMedia} />
      {error !== null && <Trouble error={error} />}
      <BigButton kind="main" busy={busy} picture={<Picture of="well" />} onClick={done}>
        {words.done}
      </BigButton>
      <Rows>
        <Row
          href={`/today/could-not/${encodeURIComponent(`request:${request.id}`)}`}
          picture={<Picture of="cannot" />}
          title={words.couldNot.title}
        />
      </Rows>
      <Listen text={request.text} />
    </>
  );
}
