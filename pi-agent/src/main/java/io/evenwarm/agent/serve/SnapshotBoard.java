package io.evenwarm.agent.serve;

import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * The newest snapshot of each cabinet, for whoever wants to look.
 *
 * <p>Threads: the control thread pins snapshots up and never waits; any thread may look. An older
 * snapshot that nobody looked at is gone: memory does not grow with a slow reader.
 */
public final class SnapshotBoard implements SnapshotListener {

    private final List<CabinetName> cabinets;
    private final Map<CabinetName, AtomicReference<Optional<CabinetSnapshot>>> newest;
    private final CopyOnWriteArrayList<Runnable> readers = new CopyOnWriteArrayList<>();

    /**
     * @param cabinets all there are, in the order in which they are shown
     */
    public SnapshotBoard(List<CabinetName> cabinets) {
        this.cabinets = List.copyOf(cabinets);
        this.newest =
                cabinets.stream()
                        .collect(
                                Collectors.toUnmodifiableMap(
                                        Function.identity(),
                                        name -> new AtomicReference<>(Optional.empty())));
    }

    @Override
    public void published(CabinetSnapshot snapshot) {
        AtomicReference<Optional<CabinetSnapshot>> place = newest.get(snapshot.cabinet());
        if (place != null) {
            place.set(Optional.of(snapshot));
            readers.forEach(Runnable::run);
        }
    }

    /** Every cabinet's newest, in order; those not yet published are left out. */
    public List<CabinetSnapshot> all() {
        return cabinets.stream().map(this::newestOf).flatMap(Optional::stream).toList();
    }

    private Optional<CabinetSnapshot> newestOf(CabinetName cabinet) {
        AtomicReference<Optional<CabinetSnapshot>> place = newest.get(cabinet);
        return place == null ? Optional.empty() : place.getAcquire();
    }

    /** Calls {@code reader} on the control thread at each change: it must return at once. */
    void add(Runnable reader) {
        readers.add(reader);
    }

    void remove(Runnable reader) {
        readers.remove(reader);
    }
}
