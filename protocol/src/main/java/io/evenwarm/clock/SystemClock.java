package io.evenwarm.clock;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.function.BooleanSupplier;

/** The machine's own clocks. */
public final class SystemClock {

    /** Exists once the system's time service has set the clock (systemd-timesyncd(8), "Files"). */
    private static final Path TIME_SYNC_MARK = Path.of("/run/systemd/timesync/synchronized");

    private SystemClock() {}

    public static MonotonicClock monotonic() {
        return System::nanoTime;
    }

    public static WallClock wall() {
        return wall(() -> false);
    }

    /**
     * As the other.
     *
     * @param alsoSet tells whether something other than the system's time service has set the clock
     */
    public static WallClock wall(BooleanSupplier alsoSet) {
        return new SystemWallClock(TIME_SYNC_MARK, alsoSet);
    }

    private record SystemWallClock(Path syncMark, BooleanSupplier alsoSet) implements WallClock {
        @Override
        public Instant now() {
            return Instant.now();
        }

        @Override
        public boolean isTrusted() {
            return Files.exists(syncMark) || alsoSet.getAsBoolean();
        }
    }
}
