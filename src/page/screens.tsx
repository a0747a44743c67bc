import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { ScreenProps } from "./shop.js";

type Screen = ComponentType<ScreenProps>;

// Fetched when first asked for, so that the first view stays small. The words stand in the menu.
const screens: Record<string, { words?: string; load: () => Promise<{ default: Screen }> }> = {
  job: { words: "Jobs", load: () => import("./job/job.js") },
  tool: { words: "Tools", load: () => import("./tool/tool.js") },
  feature: { load: () => import("./feature/feature.js") },
};

export const menu = Object.entries(screens).flatMap(([screen, { words }]) =>
  words === undefined ? [] : [{ screen, words }],
);

/** The screen that the address names; nothing where there is none of that name. */
export function OtherScreen(props: ScreenProps) {
  const name = props.route.screen;
  const [loaded, setLoaded] = useState<{ name: string; Screen: Screen }>();
  const [fault, setFault] = useState(false);
  useEffect(() => {
    let isLeft = false;
    setFault(false);
    screens[name]?.load().then(
      (module) => isLeft || setLoaded({ name, Screen: module.default }),
      () => isLeft || setFault(true),
    );
    return () => {
      isLeft = true;
    };
  }, [name]);
  if (!screens[name]) return <p role="alert">There is no such page here.</p>;
  if (fault) return <p role="alert">This part of the page could not be fetched. Load the page again.</p>;
  if (loaded?.name !== name) return <p>One moment …</p>;
  return <loaded.Screen {...props} />;
}
