/** The parts of a farm that come by key, in the order in which they are offered. */
export const partNames = ["milestones", "training", "build", "calls", "reported"] as const;
export type PartName = (typeof partNames)[number];

/** The keys of the parts as they come. */
export const partKeys: Record<PartName, string> = {
  milestones: "m",
  training: "t",
  build: "b",
  calls: "c",
  reported: "r",
};
