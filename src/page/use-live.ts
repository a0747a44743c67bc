import { useCallback, useEffect, useRef, useState } from "preact/hooks";
import { Refused } from "./client.js";

const everyMs = 2000;
const longestWaitMs = 15_000;

/**
 * What `load` answers, where `keys` say when it asks for something else, asked for again every two seconds while the page is in view, and at once by `again`. A lost
 * connection keeps what was known and says so; every answer is the whole, so that nothing can be missed meanwhile.
 */
export function useLive<T>(load: () => Promise<T>, keys: readonly unknown[]) {
  const [state, setState] = useState<{ value?: T; fault?: Error }>({});
  const round = useRef(0);

  const refresh = useCallback(async () => {
    const mine = ++round.current;
    const late = () => mine !== round.current;
    try {
      const value = await withinTime(load());
      if (!late()) setState({ value });
    } catch (error) {
      if (!late()) setState((before) => ({ ...before, fault: error as Error }));
    }
  }, keys);

  useEffect(() => {
    let timer: ReturnType<typeof setTimeout>;
    let ended = false;
    const loop = async () => {
      if (document.visibilityState === "visible") await refresh();
      if (!ended) timer = setTimeout(loop, everyMs);
    };
    setState({});
    void loop();
    const seen = () => void refresh();
    document.addEventListener("visibilitychange", seen);
    window.addEventListener("online", seen);
    return () => {
      ended = true;
      round.current++;
      clearTimeout(timer);
      document.removeEventListener("visibilitychange", seen);
      window.removeEventListener("online", seen);
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
