// Short names for what the office asks the API for.
import type { components } from "../../api/api.gen";

type Schemas = components["schemas"];

export type RegisterAnswer = Schemas["Answer"];
export type WayInMade = Schemas["WayInAnswerBody"];
export type Holiday = Schemas["Holiday"];
