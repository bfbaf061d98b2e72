// Short names for what the API answers; `npm run types` makes them from its
// description.
import type { components } from "./api.gen";

type Schemas = components["schemas"];

export type FarmRow = Schemas["FarmRow"];
export type FarmPage = Schemas["FarmPage"];
export type UnitPage = Schemas["UnitPage"];
export type CyclePage = Schemas["CyclePage"];
export type CycleRow = Schemas["CycleRow"];
export type CycleOutlook = Schemas["CycleOutlook"];
export type BuildSheet = Schemas["BuildSheet"];
export type WorkerPage = Schemas["WorkerPage"];
export type Mark = Schemas["Mark"];
export type Pause = Schemas["Pause"];
export type Snag = Schemas["Snag"];
export type Event = Schemas["Event"];
export type EntryBody = Schemas["EntryBody"];
export type Branch = Schemas["Branch"];
export type Person = Schemas["Person"];
export type StandingCount = Schemas["StandingCount"];
export type TicketLine = Schemas["TicketLine"];
export type Thread = Schemas["Thread"];
// The name stands in the answer as well; the description leaves it out.
export type Pack = Schemas["PackBody"] & Partial<Schemas["PackName"]>;
export type PackName = Schemas["PackName"];
export type PackMilestone = Schemas["PackMilestone"];
export type PackChecklist = Schemas["PackChecklist"];
export type PackItem = Schemas["PackItem"];
export type PackField = Schemas["PackField"];
export type PackText = Schemas["PackText"];
export type VisitNeed = Schemas["VisitNeed"];
export type VisitNeedList = Schemas["VisitNeedList"];
export type VisitLine = Schemas["VisitLine"];
export type Scored = Schemas["Scored"];
export type Task = Schemas["Task"];
export type ToConfirmRow = Schemas["ToConfirmRow"];
export type FindingRow = Schemas["FindingRow"];
export type PromiseLine = Schemas["PromiseLine"];
export type Load = Schemas["Load"];
export type ProjectionPage = Schemas["ProjectionPage"];
export type Band = Schemas["Band"];
export type ProjectionPoint = Schemas["Point"];
export type FishPoint = Schemas["FishPoint"];
