import { fireEvent, render, screen } from "@testing-library/preact";
import { useState } from "preact/hooks";
import { beforeEach, expect, it, vi } from "vitest";
import { language } from "../i18n/language";
import { accessible } from "../testing/axe";
import { Choice, SelectField } from "./choice";
import { DateField } from "./date-field";
import { CheckField, PhoneField, TextArea, TextField } from "./field";
import { NumberField } from "./number-field";
import { SecretField } from "./secret-field";

beforeEach(() => {
  language.value = "en";
});

const type = (input: Element, value: string) => fireEvent.input(input, { target: { value } });

it("ties label, hint and error to the input", async () => {
  const onValue = vi.fn();
  const { container } = render(
    <TextField label="Name" hint="As on the gate." error="Fill this in." value="" onValue={onValue} />,
  );
  const input = screen.getByLabelText("Name");
  expect(input.getAttribute("aria-invalid")).toBe("true");
  const described = input.getAttribute("aria-describedby")?.split(" ") ?? [];
  expect(described.map((id) => document.getElementById(id)?.textContent)).toEqual([
    "As on the gate.",
    "Fill this in.",
  ]);
  type(input, "Ndop");
  expect(onValue).toHaveBeenCalledWith("Ndop");
  await accessible(container);
});

it("says that no more fits, for what is pasted is cut in silence", () => {
  render(<TextArea label="Note" value="12345" onValue={vi.fn()} maxLength={5} />);
  expect(screen.getByRole("status").textContent).toContain("No more than 5 characters");
});

function Numbers({ seen }: { seen: (value: number | null) => void }) {
  const [value, setValue] = useState<number | null>(null);
  const [measure, setMeasure] = useState("m");
  const take = (next: number | null) => {
    setValue(next);
    seen(next);
  };
  return (
    <NumberField
      label="Length"
      value={value}
      onValue={take}
      min={0.1}
      max={100}
      measure={measure}
      measures={["m", "ft"]}
      onMeasure={setMeasure}
    />
  );
}

it("reads numbers and says what is wrong with others", async () => {
  const seen = vi.fn();
  const { container } = render(<Numbers seen={seen} />);
  const input = screen.getByLabelText("Length");
  type(input, "12,5");
  expect(seen).toHaveBeenLastCalledWith(12.5);
  expect((input as HTMLInputElement).value).toBe("12,5");
  type(input, "12 by 3");
  expect(seen).toHaveBeenLastCalledWith(null);
  expect(screen.getByText("“12 by 3” is not a number. Write it like 12.5.")).toBeTruthy();
  type(input, "500");
  expect(seen).toHaveBeenLastCalledWith(null);
  expect(screen.getByText("100 is the most this can be.")).toBeTruthy();
  fireEvent.change(screen.getByLabelText("Measure: Length"), { target: { value: "ft" } });
  expect((screen.getByLabelText("Measure: Length") as HTMLSelectElement).value).toBe("ft");
  await accessible(container);
});

it("says a date in words and offers the near ones", async () => {
  vi.useFakeTimers({ now: new Date(2026, 2, 12, 9), toFake: ["Date"] });
  const onValue = vi.fn();
  const { container } = render(<DateField label="Planted on" value="2026-03-10" onValue={onValue} quick />);
  expect(container.querySelector("output")?.textContent?.replace(/\u00a0/g, " ")).toBe("10 Mar 2026");
  fireEvent.click(screen.getByText("Yesterday"));
  expect(onValue).toHaveBeenCalledWith("2026-03-11");
  vi.useRealTimers();
  await accessible(container);
});

it("offers a choice as radio buttons", async () => {
  const onValue = vi.fn();
  const options = [
    { value: "yes", label: "Yes" },
    { value: "no", label: "No", hint: "Say why below." },
  ] as const;
  const { container } = render(
    <Choice label="Is the path clear?" options={options} value="" onValue={onValue} />,
  );
  fireEvent.click(screen.getByRole("radio", { name: "Yes" }));
  expect(onValue).toHaveBeenCalledWith("yes");
  await accessible(container);
});

it("shows a secret when asked to and lets it be pasted", async () => {
  const { container } = render(
    <SecretField label="PIN" value="123456" onValue={() => undefined} autoComplete="off" digits />,
  );
  const input = screen.getByLabelText("PIN") as HTMLInputElement;
  expect(input.type).toBe("password");
  fireEvent.click(screen.getByRole("button", { name: "Show: PIN" }));
  expect(input.type).toBe("text");
  await accessible(container);
});

it("has the other fields without a fault for axe", async () => {
  const nothing = () => undefined;
  const { container } = render(
    <form>
      <PhoneField label="Phone" value="" onValue={nothing} optional />
      <TextArea label="What was said" value="" onValue={nothing} maxLength={2000} />
      <CheckField label="Watch at once" hint="Its findings become tickets." checked onChecked={nothing} />
      <SelectField
        label="Branch"
        blank="All"
        options={[{ value: "b", label: "Buea" }]}
        value=""
        onValue={nothing}
      />
    </form>,
  );
  expect(screen.getByLabelText(/Phone/).getAttribute("inputmode")).toBe("tel");
  await accessible(container);
});
