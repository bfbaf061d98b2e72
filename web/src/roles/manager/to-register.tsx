import { managerWords } from "./words";

/** ToRegister leads to where the firm's spreadsheet is read. */
export function ToRegister() {
  return (
    <a class="to-register no-print" href="/office">
      {managerWords().toRegister}
    </a>
  );
}
