import type { components } from "../../api/api.gen";

type Schemas = components["schemas"];

// What the operations of the call desk answer and take, by the names that the desk uses.
export type Hit = Schemas["Hit"];
export type CallLine = Schemas["CallLine"];
export type NewCall = Schemas["NewCallBody"];
export type CallBack = Schemas["CallBack"];
export type PromiseLine = Schemas["PromiseLine"];
/** A Promise of the firm; its name in JavaScript is taken. */
export type Promised = Schemas["Promise"];
