import { useState } from "preact/hooks";
import { api } from "../../api/client";
import type { Person } from "../../api/types";
import { Button } from "../../ui/button";
import { Choice } from "../../ui/choice";
import { Dialog } from "../../ui/dialog";
import { useSending } from "../../ui/sending";
import { Trouble } from "../../ui/states";
import { toast } from "../../ui/toast";
import type { WayInMade } from "./types";
import { officeWords } from "./words";

type Way = "link" | "code" | "password" | "reset";

const bodies = {
  link: { kind: "link", purpose: "phone" },
  code: { kind: "code", purpose: "phone" },
  password: { kind: "link", purpose: "password" },
  reset: { kind: "link", purpose: "reset" },
} as const;

/** waysOf are the ways in that fit a person: staff may have a password, everybody a phone. */
export function waysOf(person: Person): Way[] {
  const staff = (person.grants ?? []).some((g) => g.role !== "caretaker" && g.role !== "owner");
  return staff ? ["password", "reset", "link", "code"] : ["link", "code"];
}

/** WayIn makes a link or a code by which a person gets in, and shows it once. */
export function WayIn({ person, onClose }: { person: Person; onClose: () => void }) {
  const words = officeWords();
  const ways = waysOf(person);
  const [open, setOpen] = useState(true);
  const [way, setWay] = useState<Way>(ways[0] as Way);
  const [made, setMade] = useState<WayInMade | null>(null);
  const { busy, error, submit } = useSending(async () => {
    const { body } = await api.post("/api/people/{id}/ways-in", {
      path: { id: person.id },
      body: bodies[way],
    });
    setMade(body);
  });
  return (
    <Dialog open={open} title={words.people.wayInOf(person.name)} onClose={onClose}>
      {made ? (
        <Once made={made} close={() => setOpen(false)} />
      ) : (
        <form onSubmit={submit}>
          {error !== null && <Trouble error={error} texts={words.problems} />}
          <Choice<Way>
            label={words.people.way}
            options={ways.map((value) => ({ value, label: words.people.ways[value] }))}
            value={way}
            onValue={setWay}
          />
          <Button kind="main" type="submit" busy={busy}>
            {words.people.makeWay}
          </Button>
        </form>
      )}
    </Dialog>
  );
}

function Once({ made, close }: { made: WayInMade; close: () => void }) {
  const words = officeWords().people;
  // The secret stands behind the "#": it never reaches the server by an address.
  const link = made.secret ? `${location.origin}/enrol#${made.secret}` : "";
  return (
    <>
      <p>{link ? words.linkIs(made.expires_at) : words.codeIs(made.expires_at)}</p>
      <p class={link ? "way-in-secret" : "way-in-secret way-in-code"}>{link || made.code}</p>
      {link && (
        <Button
          onClick={() => {
            void navigator.clipboard.writeText(link).then(() => toast(words.copied));
          }}
        >
          {words.copy}
        </Button>
      )}
      <Button kind="main" onClick={close}>
        {words.close}
      </Button>
    </>
  );
}
