// @vitest-environment node
import { expect, it } from "vitest";
import { type Chunk, listFiles } from "./files";

const chunk = (fileName: string, more: Partial<Chunk> = {}): Chunk => ({
  fileName,
  isEntry: false,
  imports: [],
  dynamicImports: [],
  modules: [],
  css: [],
  ...more,
});

const built = [
  chunk("main.js", {
    isEntry: true,
    imports: ["vendor.js"],
    dynamicImports: ["phone.js", "phone-en.js", "desk.js", "door.js", "lock-en.js"],
    css: ["main.css"],
  }),
  chunk("vendor.js"),
  chunk("phone.js", { modules: ["/x/src/roles/phone/pages.tsx"], imports: ["vendor.js"] }),
  chunk("phone-en.js", { modules: ["/x/src/roles/phone/en.ts"] }),
  chunk("desk.js", {
    modules: ["/x/src/roles/desk/pages.tsx"],
    imports: ["farm.js", "main.js"],
    dynamicImports: ["map.js"],
  }),
  chunk("farm.js", { modules: ["/x/src/farm/words.ts"], css: ["farm.css"] }),
  chunk("farm-fr.js", { modules: ["/x/src/farm/fr.ts"] }),
  chunk("map.js"),
  chunk("door.js", { modules: ["/x/src/door/pages.tsx"], dynamicImports: ["lock.js"] }),
  chunk("lock.js", { modules: ["/x/src/lock/screen.tsx"], css: ["lock.css"] }),
  chunk("lock-en.js", { modules: ["/x/src/lock/en.ts"] }),
  chunk("first-run.js", { modules: ["/x/src/first-run/pages.tsx"], imports: ["vendor.js"] }),
];

it("sorts files by who needs them", () => {
  expect(listFiles(built)).toEqual({
    shell: ["door.js", "main.css", "main.js", "vendor.js"],
    later: ["lock-en.js", "lock.css", "lock.js"],
    roles: {
      desk: ["desk.js", "farm-fr.js", "farm.css", "farm.js", "map.js"],
      phone: ["phone-en.js", "phone.js"],
    },
  });
});
