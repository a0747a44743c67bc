import { hrefOf } from "./route.js";
import { loadNext, type Shop } from "./shop.js";
import { useLive } from "./use-live.js";
import { nextShapes, sayNext } from "./words.js";

/** Every machine with its jobs in work, and the one thing to do next on each. */
export function Overview({ shop }: { shop: Shop }) {
  const busy = shop.machines.filter(({ machine_id }) =>
    shop.batches.some((batch) => batch.machine_id === machine_id),
  );
  return (
    <>
      <h2 class="unseen">Jobs in work</h2>
      {busy.map(({ machine_id, name }) => (
        <section key={machine_id} class="machine" aria-label={name}>
          <h3>{name}</h3>
          <ul class="jobs">
            {shop.batches
              .filter((batch) => batch.machine_id === machine_id)
              .map((batch) => (
                <li key={batch.batch_id}>
                  <JobLink batch={batch} />
                </li>
              ))}
          </ul>
        </section>
      ))}
    </>
  );
}

function JobLink({ batch }: { batch: Shop["batches"][number] }) {
  const { batch_id } = batch;
  const { value: next } = useLive(
    () => loadNext(batch_id),
    [batch_id],
    ({ batches, shop }) => shop || batches.includes(batch_id),
  );
  return (
    <a class={`job next ${next ? nextShapes[next.action] : ""}`} href={hrefOf("now", [batch_id])}>
      <b>{batch.name}</b>
      <span class="large">{next ? sayNext(next) : "…"}</span>
      {batch.quantity !== null && (
        <span>
          {batch.last_piece_cut} of {batch.quantity} cut
        </span>
      )}
    </a>
  );
}
