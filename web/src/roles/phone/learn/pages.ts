import type { ComponentType } from "preact";
import type { PageProps } from "../../../shell/page-list";
import { Card } from "./card";
import { Modules } from "./list";
import { Module } from "./module";
import { Questions } from "./questions";

/** The pages of learning by name; they are brought when somebody learns, or ahead of that. */
export const views: Record<"modules" | "module" | "card" | "questions", ComponentType<PageProps>> = {
  modules: Modules,
  module: Module,
  card: Card,
  questions: Questions,
};

export { bringAhead } from "./data";
