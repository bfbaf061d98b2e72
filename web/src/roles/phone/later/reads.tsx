import { Gate } from "../gate";
import { CallLinks } from "../parts";
import { laterWords } from "./words";

/** Reads says who can read what is entered here, and for how long it lies on the phone. */
export function Reads() {
  const words = laterWords().reads;
  return (
    <Gate title={words.title}>
      {(farm) => (
        <>
          <p>{words.you}</p>
          <p>{words.firm}</p>
          <p>{words.owner}</p>
          <p>{words.nobody}</p>
          <p>{words.seen}</p>
          <p>{words.phone}</p>
          <p class="phone-caution">{words.lost}</p>
          <CallLinks farm={farm} />
        </>
      )}
    </Gate>
  );
}
