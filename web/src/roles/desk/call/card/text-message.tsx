import { useState } from "preact/hooks";
import { CheckField, TextArea } from "../../../../ui/field";
import { deskWords } from "../../words";
import { plain, sizeOf } from "./text-size";

/**
 * TextMessage shows a text message with what it costs before it goes: the
 * parts, and the letters that make it dear. It goes with the note, by the
 * firm's own way of sending, or opens in the text program of the device
 * (RFC 5724); either way it is kept with the call.
 */
export function TextMessage({
  label,
  text,
  phone,
  goes,
  onSent,
}: {
  label: string;
  text: string;
  phone: string;
  /** The text that goes with the note, "" = none; left out where it cannot go with it. */
  goes?: string;
  onSent: (text: string) => void;
}) {
  const words = deskWords().call.card;
  const [own, setOwn] = useState<string | null>(null);
  const body = own ?? plain(text);
  const size = sizeOf(body);
  return (
    <details class="card-text">
      <summary>{label}</summary>
      <TextArea
        label={label}
        rows={3}
        maxLength={1500}
        value={body}
        onValue={(text) => {
          setOwn(text);
          if (goes) onSent(text);
        }}
      />
      <p class="field-hint" role="status">
        {words.textSize(size.parts, size.left)}. {size.odd && words.textOdd(size.odd)}
      </p>
      {goes !== undefined && (
        <CheckField
          label={words.textWithNote}
          checked={goes !== ""}
          onChecked={(on) => onSent(on ? body : "")}
        />
      )}
      <a
        class="button"
        href={`sms:${encodeURIComponent(phone)}?body=${encodeURIComponent(body)}`}
        onClick={() => onSent(body)}
      >
        {words.textOpen}
      </a>{" "}
      <span class="field-hint">{words.textGoes}</span>
    </details>
  );
}
