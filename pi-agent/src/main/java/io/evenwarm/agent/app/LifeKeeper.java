package io.evenwarm.agent.app;

import io.evenwarm.agent.driver.sysfs.MachineBoot;
import io.evenwarm.agent.durable.LifeNote;
import io.evenwarm.clock.WallClock;
import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;

/** Keeps the note that the agent is alive, once a minute and away from the control thread. */
final class LifeKeeper implements AutoCloseable {

    private static final Logger LOG = System.getLogger(LifeKeeper.class.getName());
    private static final long PERIOD_SECONDS = 60;
    private static final long END_SECONDS = 2;

    private final Optional<LifeNote> note;
    private final WallClock wall;
    private final ScheduledExecutorService thread =
            Executors.newSingleThreadScheduledExecutor(
                    work -> {
                        Thread made = new Thread(work, "life note");
                        made.setDaemon(true);
                        return made;
                    });

    LifeKeeper(Path stateFolder, WallClock wall) {
        this.note = MachineBoot.id(MachineBoot.FILE).map(boot -> new LifeNote(stateFolder, boot));
        this.wall = wall;
    }

    /** Whether the machine went off under the last run. Before {@link #start}. */
    Optional<LifeNote.PowerCut> powerCut() {
        return note.flatMap(LifeNote::powerCut);
    }

    void start() {
        thread.scheduleWithFixedDelay(this::running, 0, PERIOD_SECONDS, TimeUnit.SECONDS);
    }

    private void running() {
        Optional<Instant> now = wall.isTrusted() ? Optional.of(wall.now()) : Optional.empty();
        write(there -> there.running(now));
    }

    private interface Writing {
        void on(LifeNote note) throws IOException;
    }

    private void write(Writing writing) {
        if (note.isEmpty()) {
            return;
        }
        try {
            writing.on(note.get());
        } catch (IOException | RuntimeException e) {
            LOG.log(Level.WARNING, "the note that the agent lives can't be written: {0}", e);
        }
    }

    /** Notes a wanted end; gives up after {@value #END_SECONDS} s on a disk that hangs. */
    @Override
    public void close() {
        thread.execute(() -> write(LifeNote::ended));
        thread.shutdown();
        try {
            if (!thread.awaitTermination(END_SECONDS, TimeUnit.SECONDS)) {
                thread.shutdownNow();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
