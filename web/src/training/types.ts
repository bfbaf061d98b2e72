import type { components } from "../api/api.gen";

type Schemas = components["schemas"];
export type TrainingPage = Schemas["TrainingPage"];
export type LearnerRow = Schemas["LearnerRow"];
export type CoverRow = Schemas["CoverRow"];
export type QuestionRow = Schemas["QuestionRow"];
