import { render } from "preact";
import { useState } from "preact/hooks";
import { LocationProvider } from "preact-iso";
import { Problem } from "../../src/api/problem";
import { begin } from "../../src/api/session";
import en from "../../src/farm/en";
import {
  farmWords,
  type Standing as StandingName,
  type TicketState as StateName,
  type Urgency as UrgencyName,
} from "../../src/farm/words";
import { type Language, speak } from "../../src/i18n/language";
import { useCommand } from "../../src/keyboard/commands";
import { KeyHelp } from "../../src/keyboard/key-help";
import { cameroon } from "../../src/map/cameroon.gen";
import { MapView, type Point } from "../../src/map/map";
import { FirmNote, Standing, TicketState, Urgency } from "../../src/marks/marks";
import { Page } from "../../src/shell/page";
import { SendingLine } from "../../src/shell/sending-line";
import { SkipLink, TopLine } from "../../src/shell/topline";
import { StripRow, StripView } from "../../src/strip/strip";
import { lateHouse } from "../../src/testing/strips";
import { Button, LinkButton } from "../../src/ui/button";
import { Choice, SelectField } from "../../src/ui/choice";
import { DateField } from "../../src/ui/date-field";
import { Dialog } from "../../src/ui/dialog";
import { CheckField, PhoneField, TextArea, TextField } from "../../src/ui/field";
import { HeldList } from "../../src/ui/held-list";
import { NumberField } from "../../src/ui/number-field";
import { SecretField } from "../../src/ui/secret-field";
import { Empty, Loading, Trouble } from "../../src/ui/states";
import { Table } from "../../src/ui/table";
import { Toasts, toast } from "../../src/ui/toast";
import "../../src/style/tokens.css";
import "../../src/style/base.css";
import "../../src/style/form.css";
import "../../src/style/shell.css";
import "../../src/style/print.css";

const query = new URLSearchParams(location.search);
const nothing = () => undefined;

const farms: Point[] = [
  { id: "1", name: "Limbe hill", position: { lat: 4.02, lng: 9.2 }, standing: "behind", href: "#1" },
  { id: "2", name: "Bamenda gate", position: { lat: 5.96, lng: 10.15 }, standing: "on-course", href: "#2" },
  { id: "3", name: "Ngaoundere", position: { lat: 7.33, lng: 13.58 }, standing: "no-news", href: "#3" },
  { id: "4", name: "Kribi shore", position: { lat: 2.94, lng: 9.91 }, standing: "slipping", href: "#4" },
];

function Gallery() {
  return (
    <div class="shell">
      <SkipLink />
      <TopLine pages={[{ path: "/desk", view: Gallery, nav: () => "Dossiers" }]} />
      <main id="main" tabIndex={-1}>
        <Page title="Gallery" aside={<Standing standing="slipping" />} back="#back">
          <Marks />
          <h2>Strip</h2>
          <StripView strip={lateHouse} />
          <p>
            <StripRow strip={lateHouse} /> <StripRow strip={{ ...lateHouse, slip: -4 }} />
          </p>
          <Forms />
          <Lists />
          <Others />
        </Page>
      </main>
      <SendingLine always />
      <Toasts />
      <KeyHelp />
    </div>
  );
}

function Marks() {
  return (
    <>
      <h2>Marks</h2>
      <p class="joined">
        {Object.keys(en.standing).map((k) => (
          <Standing key={k} standing={k as StandingName} />
        ))}
      </p>
      <p class="joined">
        {Object.keys(en.urgency).map((k) => (
          <Urgency key={k} urgency={k as UrgencyName} />
        ))}
      </p>
      <p class="joined">
        {Object.keys(en.state).map((k) => (
          <TicketState key={k} state={k as StateName} />
        ))}
        <TicketState state="waiting" waitingOn="electrician" />
      </p>
      <FirmNote>
        <p>Has not paid the second part. Danger calls are answered all the same.</p>
      </FirmNote>
    </>
  );
}

function Forms() {
  const [length, setLength] = useState<number | null>(12.5);
  const [measure, setMeasure] = useState("ft");
  const [clear, setClear] = useState<"yes" | "no" | "">("");
  return (
    <form class="narrow" onSubmit={(e) => e.preventDefault()}>
      <h2>Form</h2>
      <TextField label="Name" hint="As on the gate." value="Ndop" onValue={nothing} />
      <TextField label="Town" error="Fill this in." value="" onValue={nothing} />
      <NumberField
        label="Length"
        value={length}
        onValue={setLength}
        measure={measure}
        measures={["m", "ft"]}
        onMeasure={setMeasure}
      />
      <NumberField label="Mean weight" value={12} onValue={nothing} measure="g" />
      <DateField label="Planted on" value="2026-03-12" onValue={nothing} quick />
      <PhoneField label="Phone" value="" onValue={nothing} optional />
      <SecretField label="PIN" value="123456" onValue={nothing} autoComplete="off" digits />
      <TextArea label="What was said" value="" onValue={nothing} maxLength={2000} />
      <SelectField
        label="Branch"
        blank="All"
        options={[{ value: "b", label: "Buea" }]}
        value=""
        onValue={nothing}
      />
      <Choice
        label="Is the path clear?"
        options={[
          { value: "yes", label: "Yes" },
          { value: "no", label: "No", hint: "Say why below." },
        ]}
        value={clear}
        onValue={setClear}
      />
      <CheckField label="Watch at once" checked onChecked={nothing} />
      <p class="joined">
        <Button kind="main" type="submit">
          Save
        </Button>
        <Button>Cancel</Button>
        <Button kind="danger">NOT SENT</Button>
        <Button busy>Busy</Button>
        <LinkButton href="#x">Go there</LinkButton>
      </p>
    </form>
  );
}

function Lists() {
  const [items, setItems] = useState(["417/26", "418/26"]);
  return (
    <>
      <h2>Lists</h2>
      <Button onClick={() => setItems(["419/26", "418/26"])}>Change the queue</Button>
      <HeldList
        items={items}
        keyOf={(i) => i}
        render={(i) => (
          <span class="joined">
            <a href="#ticket">{i}</a> <Urgency urgency="losing-time" /> <TicketState state="reported" />
            <StripRow strip={lateHouse} />
          </span>
        )}
        announce={farmWords().newTickets}
        label="Queue"
      />
      <Table
        caption="Milestones"
        columns={[
          { key: "name", head: "Milestone", cell: (m) => m.name },
          { key: "state", head: "State", cell: (m) => farmWords().milestoneState[m.state] },
          { key: "days", head: "Days", number: true, cell: () => "3" },
        ]}
        rows={lateHouse.milestones.slice(0, 4)}
        keyOf={(m) => m.key}
      />
    </>
  );
}

function Others() {
  const [open, setOpen] = useState(false);
  useCommand({ id: "gallery.open", combo: "F2", label: () => "Open the dialog" }, () => setOpen(true));
  return (
    <>
      <h2>Others</h2>
      <Empty />
      <Loading />
      <Trouble error={new Problem(0, "no-network", "")} retry={nothing} />
      <p class="joined">
        <Button onClick={() => setOpen(true)}>Open the dialog</Button>
        <Button onClick={() => toast("Marked as done", nothing)}>Toast</Button>
      </p>
      <Dialog open={open} title="Settle the ticket" onClose={() => setOpen(false)}>
        <p>How was it settled?</p>
      </Dialog>
      <div style={{ maxWidth: "22em" }}>
        <MapView outline={cameroon} points={farms} label="Farms" chosen="2" />
      </div>
    </>
  );
}

begin({
  access_token: "none",
  person: {
    id: "p",
    name: "Ana",
    language: "en",
    grants: [
      { role: "advisor", branch_id: "" },
      { role: "manager", branch_id: "" },
    ],
  },
});
document.documentElement.dataset.reach = query.get("reach") ?? "desk";
document.documentElement.dataset.theme = query.get("theme") ?? "light";
await farmWords.load();
await speak((query.get("lang") ?? "en") as Language);
render(
  <LocationProvider>
    <Gallery />
  </LocationProvider>,
  document.getElementById("app") as HTMLElement,
);
