import { createContext } from "preact";
import { useContext } from "preact/hooks";
import { roles } from "../../api/session";
import type { FarmPage } from "../../api/types";

/** What every part of the farm page works with. */
export interface FarmContext {
  farm: FarmPage;
  /** changed reads the farm again: at once, and once more when the sweep of the farm will have run. */
  changed: () => void;
  /** How often the farm was read: lists beside it are read again with it. */
  times: number;
}

const Context = createContext<FarmContext | null>(null);

/** FarmProvider gives the parts of the page their farm. */
export const FarmProvider = Context.Provider;

/** useFarm is the farm of the page. */
export function useFarm(): FarmContext {
  const found = useContext(Context);
  if (!found) throw new Error("useFarm outside of the farm page");
  return found;
}

/** leads says whether the person signed in may decide what a manager decides. */
export function leads(): boolean {
  return roles.value.includes("manager") || roles.value.includes("administrator");
}
