import { render } from "preact";
import { useState } from "preact/hooks";
import { Refused, signIn } from "./client.js";
import { Now } from "./now.js";
import { Overview } from "./overview.js";
import { hrefOf, useRoute } from "./route.js";
import { menu, OtherScreen } from "./screens.js";
import { loadShop } from "./shop.js";
import { useLive } from "./use-live.js";

function Page() {
  const route = useRoute();
  const shop = useLive(loadShop, [], ({ shop }) => shop);
  const { machines = [], batches = [] } = shop.value ?? {};
  const isNow = route.screen === "" || route.screen === "now";
  // A job that was named and is not there is never another one in its place: a reading would go astray.
  const [named] = route.of;
  const wanted = batches.find(({ batch_id }) => batch_id === named);
  const only = batches.length === 1 ? batches[0] : undefined;
  const batch = isNow ? (named ? wanted : only) : undefined;
  const needsKey = shop.fault instanceof Refused && shop.fault.status === 401;
  return (
    <>
      <header>
        <h1>onsize</h1>
        {(batches.length > 1 || !isNow) && (batch || !isNow) && <a href={hrefOf("now")}>all jobs</a>}
        {batch && (
          <nav aria-label="Jobs on this machine">
            <span class="here">
              {machines.find(({ machine_id }) => machine_id === batch.machine_id)?.name}
            </span>
            {batches
              .filter(({ machine_id }) => machine_id === batch.machine_id)
              .map(({ batch_id, name }) => (
                <a
                  key={batch_id}
                  href={hrefOf("now", [batch_id])}
                  aria-current={batch_id === batch.batch_id ? "page" : undefined}
                >
                  <b>{name}</b>
                </a>
              ))}
          </nav>
        )}
        {menu.length > 0 && (
          <nav aria-label="More">
            {menu.map(({ screen, words }) => (
              <a
                key={screen}
                href={hrefOf(screen)}
                aria-current={screen === route.screen ? "page" : undefined}
              >
                {words}
              </a>
            ))}
          </nav>
        )}
      </header>
      {shop.isLost && (
        <p class="lost" role="alert">
          No connection to the service. What stands here may be old; nothing can be entered until it is back.
        </p>
      )}
      <main>
        {needsKey && <Key fault={shop.fault!.message} done={shop.again} />}
        {!needsKey && shop.fault instanceof Refused && <p role="alert">{shop.fault.message}</p>}
        {shop.value && !isNow && <OtherScreen route={route} shop={shop.value} isLost={shop.isLost} />}
        {shop.value && isNow && !batch && named && (
          <p class="large">One moment … If this stays, the job is closed; those in work stand above.</p>
        )}
        {shop.value && isNow && batches.length === 0 && !named && (
          <p class="large">
            No job is in work. Open one under <a href={hrefOf("setup")}>Set-up</a>.
          </p>
        )}
        {shop.value && isNow && !batch && !named && batches.length > 0 && <Overview shop={shop.value} />}
        {shop.value && isNow && batch && (
          <Now
            key={batch.batch_id}
            batchId={batch.batch_id}
            gauges={shop.value.gauges}
            isLost={shop.isLost}
          />
        )}
      </main>
    </>
  );
}

function Key({ fault, done }: { fault: string; done: () => void }) {
  const [refused, setRefused] = useState<string>();
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        signIn(String(new FormData(event.currentTarget).get("key"))).then(done, (error) =>
          setRefused(error instanceof Refused ? error.message : "The service cannot be reached."),
        );
      }}
    >
      <p role="alert">{refused ?? fault}</p>
      <label>
        Key <input name="key" type="password" autocomplete="off" required />
      </label>
      <button type="submit">Use this key</button>
    </form>
  );
}

render(<Page />, document.getElementById("page")!);
