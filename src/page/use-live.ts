import { useCallback, useEffect, useRef, useState } from "preact/hooks";
import { type Change, onChange } from "./changes.js";
import { Refused } from "./client.js";

const longestWaitMs = 15_000;
/** Much hangs on the clock, too, such as whether a gauge is due. */
const anywayMs = 60_000;

/**
 * What `load` answers, where `keys` say when it asks for something else; asked for again whenever something has changed that concerns it,
 * and at once by `again`. A lost connection keeps what was known and says so; every answer is the whole, so that nothing can be missed
 * meanwhile.
 */
export function useLive<T>(
  load: () => Promise<T>,
  keys: readonly unknown[],
  concerns: (change: NonNullable<Change>) => boolean = () => true,
) {
  const [state, setState] = useState<{ value?: T; fault?: Error }>({});
  const round = useRef(0);
  const underWay = useRef<Promise<void> | undefined>(undefined);
  const isStale = useRef(false);

  const refresh = useCallback((): Promise<void> => {
    // What changes while it is asked for is asked for once more, after it: many changes cost no more than one at a time.
    isStale.current = true;
    underWay.current ??= (async () => {
      const mine = round.current;
      while (isStale.current && mine === round.current) {
        isStale.current = false;
        try {
          const value = await withinTime(load());
          if (mine === round.current) setState({ value });
        } catch (error) {
          if (mine === round.current) setState((before) => ({ ...before, fault: error as Error }));
        }
      }
      if (mine === round.current) underWay.current = undefined;
    })();
    return underWay.current;
  }, keys);

  useEffect(() => {
    setState({});
    void refresh();
    const leave = onChange((change) => {
      if (change === undefined || concerns(change)) void refresh();
    });
    const timer = setInterval(() => document.visibilityState === "visible" && void refresh(), anywayMs);
    return () => {
      leave();
      clearInterval(timer);
      round.current += 1;
      underWay.current = undefined;
    };
  }, [refresh]);

  return { ...state, again: refresh, isLost: state.fault !== undefined && !(state.fault instanceof Refused) };
}

function withinTime<T>(answer: Promise<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error("no answer")), longestWaitMs);
    answer.then(resolve, reject).finally(() => clearTimeout(timer));
  });
}
