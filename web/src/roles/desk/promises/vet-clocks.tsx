import { useState } from "preact/hooks";
import { api } from "../../../api/client";
import { explain } from "../../../api/explain";
import { useRead } from "../../../api/read";
import { namesOf } from "../../../farm/packs";
import { formats } from "../../../i18n/format";
import { Button } from "../../../ui/button";
import { TextField } from "../../../ui/field";
import { toast } from "../../../ui/toast";
import { useAgain, useNow } from "../clock";
import { zoneOf } from "../firm";
import { deskWords } from "../words";

/** VetClocks are the farms of which the veterinary service must be told within 24 hours, the soonest first; nothing is shown while there are none. */
export function VetClocks() {
  const words = deskWords().promises;
  const list = useRead(
    "vet-clocks",
    async (signal) => (await api.get("/api/vet-clocks", { signal })).body.items,
  );
  useAgain(list.again);
  const now = useNow();
  if (!list.value || list.value.length === 0) return null;
  return (
    <section class="vet-clocks" aria-label={words.vet}>
      <h2>{words.vet}</h2>
      <ul>
        {list.value.map((clock) => (
          <li key={clock.call_id}>
            <p>
              <a href={`/desk/farms/${clock.farm_id}`}>{clock.farm}</a>{" "}
              {namesOf(clock.enterprise)("sign", clock.sign) ?? clock.sign},{" "}
              <strong class={Date.parse(clock.tell_by) < now.getTime() ? "row-overdue" : undefined}>
                {Date.parse(clock.tell_by) < now.getTime()
                  ? words.vetLate
                  : words.vetBy(formats().dateTime(clock.tell_by, zoneOf(clock.branch_id)))}
              </strong>
            </p>
            <Told callId={clock.call_id} again={() => void list.again()} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Told({ callId, again }: { callId: string; again: () => void }) {
  const words = deskWords().promises;
  const [how, setHow] = useState("");
  const [busy, setBusy] = useState(false);
  const tell = async () => {
    if (how.trim() === "" || busy) return;
    setBusy(true);
    try {
      await api.post("/api/calls/{id}/told", { path: { id: callId }, body: { how: how.trim() } });
    } catch (failure) {
      toast(explain(failure));
    } finally {
      setBusy(false);
      again();
    }
  };
  return (
    <form
      class="side-by-side"
      onSubmit={(event) => {
        event.preventDefault();
        void tell();
      }}
    >
      <TextField
        label={words.vetHow}
        input={{ maxLength: 500, autoComplete: "off" }}
        value={how}
        onValue={setHow}
      />
      <Button type="submit" busy={busy}>
        {words.vetTold}
      </Button>
    </form>
  );
}
