/** fakeLocks is navigator.locks for one tab: the same name one after the other. */
export function fakeLocks() {
  const turns = new Map<string, Promise<unknown>>();
  return {
    request<T>(name: string, run: () => Promise<T> | T): Promise<T> {
      const turn = (turns.get(name) ?? Promise.resolve()).then(run, run);
      turns.set(
        name,
        turn.catch(() => undefined),
      );
      return turn;
    },
  };
}
