// Which built files each role needs, found by following the imports of its
// part of the app. Pure, so that a test can hold it.

/** What the bundler tells of one file. */
export interface Chunk {
  fileName: string;
  isEntry: boolean;
  imports: string[];
  dynamicImports: string[];
  /** Source files in it. */
  modules: string[];
  /** Style sheets it brings. */
  css: string[];
}

/** Every file of the first load, and what each role adds to it. */
export interface FileLists {
  shell: string[];
  /** Kept on every device, and not needed before the first page works. */
  later: string[];
  roles: Record<string, string[]>;
}

// Parts that several roles share and others never open; their words are
// loaded side by side with the role's pages, so no import leads there.
const sharedParts: Record<string, readonly string[]> = {
  farm: ["desk", "manager", "mine", "office", "round"],
};

// A house is set up once, at a desk with a network, and a certificate is
// checked by strangers who ask the server: nobody keeps these pages.
const neverKept = /[\\/]src[\\/](first-run|certificate)[\\/]/;

// What a device keeps and its first page does not wait for: the lock opens a
// phone that was enrolled before and seals what is entered; photos and voice
// notes; learning comes after the day; folders called "later" say so themselves.
const forLater = /[\\/]src[\\/](lock|media|learn|roles[\\/]phone[\\/]learn|.*[\\/]later)[\\/]/;

// A caretaker's pages behind the first one: kept with it, loaded after it.
const behindTheFirst = /[\\/]src[\\/]roles[\\/]phone[\\/]inner\.ts$/;

const roleOf = /[\\/]src[\\/]roles[\\/]([\w-]+)[\\/]/;

/** listFiles sorts the built files by who needs them. */
export function listFiles(chunks: readonly Chunk[]): FileLists {
  const byName = new Map(chunks.map((c) => [c.fileName, c]));
  const entries = chunks.filter((c) => c.isEntry);
  const shell = reach(entries, byName, new Set(), (c) => c.imports);
  const roles: Record<string, string[]> = {};
  for (const role of rolesIn(chunks)) {
    const own = chunks.filter((c) => c.modules.some((m) => belongsTo(m, role)));
    const found = reach(own, byName, shell, (c) => [...c.imports, ...c.dynamicImports]);
    roles[role] = filesOf(found);
  }
  // What no role reaches (the way in, say) belongs to everybody.
  const isLate = (c: Chunk) =>
    c.modules.some((m) => behindTheFirst.test(m)) ||
    (c.modules.length > 0 && c.modules.every((m) => forLater.test(m)));
  const late = chunks.filter(isLate);
  const later = filesOf(new Set(late));
  for (const role of Object.keys(roles)) roles[role] = roles[role]?.filter((f) => !later.includes(f)) ?? [];
  const taken = new Set([...Object.values(roles).flat(), ...filesOf(shell), ...later]);
  const kept = (c: Chunk) => !taken.has(c.fileName) && !c.modules.some((m) => neverKept.test(m));
  const rest = new Set(chunks.filter(kept));
  return { shell: filesOf(new Set([...shell, ...rest])), later, roles };
}

function belongsTo(module: string, role: string): boolean {
  if (roleOf.exec(module)?.[1] === role) return true;
  const part = /[\\/]src[\\/]([\w-]+)[\\/]/.exec(module)?.[1] ?? "";
  return sharedParts[part]?.includes(role) ?? false;
}

function rolesIn(chunks: readonly Chunk[]): string[] {
  const names = chunks.flatMap((c) => c.modules.map((m) => roleOf.exec(m)?.[1]));
  return [...new Set(names.filter((n): n is string => n !== undefined))].sort();
}

function reach(
  from: readonly Chunk[],
  byName: Map<string, Chunk>,
  without: ReadonlySet<Chunk>,
  next: (chunk: Chunk) => string[],
): Set<Chunk> {
  const found = new Set<Chunk>();
  const queue = [...from];
  for (let chunk = queue.pop(); chunk; chunk = queue.pop()) {
    if (found.has(chunk) || without.has(chunk)) continue;
    found.add(chunk);
    queue.push(...next(chunk).flatMap((name) => byName.get(name) ?? []));
  }
  return found;
}

function filesOf(chunks: ReadonlySet<Chunk>): string[] {
  return [...new Set([...chunks].flatMap((c) => [c.fileName, ...c.css]))].sort();
}
