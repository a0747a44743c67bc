import { useState } from "preact/hooks";
import { type Fault, Refused } from "../client.js";
import { readNumber } from "../words.js";

/** Sends a form and keeps what the service refuses, by the place that it is about. */
export function useSend() {
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  const [fault, setFault] = useState("");
  const [isBusy, setBusy] = useState(false);
  const send = async (work: () => Promise<void>) => {
    setBusy(true);
    setFault("");
    setFaults([]);
    try {
      await work();
    } catch (error) {
      setFault((error as Error).message);
      if (error instanceof Refused) setFaults(error.faults);
    } finally {
      setBusy(false);
    }
  };
  const faultAt = (pointer: string) => faults.find((one) => one.pointer === pointer)?.detail;
  return { send, faults, faultAt, fault, isBusy };
}

/** What was typed, as it is sent: a number with a point; what is no number goes as it is, and the service says so. */
export function numberOf(text: string): string {
  return readNumber(text) ?? text.trim();
}

/** Only the members that say something. */
export function given<T extends Record<string, string>>(members: T): { [K in keyof T]?: string } {
  return Object.fromEntries(Object.entries(members).filter(([, value]) => value !== "")) as {
    [K in keyof T]?: string;
  };
}
