package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.agent.Snapshots;
import io.evenwarm.agent.serve.SnapshotBoard;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** When the outside switch is called no more, on purpose. */
final class BeaconTroubleTest {

    private final SnapshotBoard board = new SnapshotBoard(List.of(new CabinetName("north")));
    private final AtomicLong nanos = new AtomicLong();
    private final AtomicBoolean monitorThere = new AtomicBoolean(true);
    private final Beacons.Trouble trouble =
            new Beacons.Trouble(board, 1, nanos::get, monitorThere::get);
    private long tick;

    /** Goes on for so long with a snapshot a second, and gives what the feed hears at the end. */
    private Optional<String> after(int seconds, FindingCode... found) {
        Optional<String> heard = Optional.empty();
        for (int i = 0; i < seconds; i++) {
            nanos.addAndGet(1_000_000_000L);
            tick++;
            CabinetSnapshot snapshot =
                    Snapshots.with(
                            Snapshots.healthy("north", tick, true),
                            Stream.of(found).map(code -> Snapshots.finding(code, 0)).toList());
            board.published(snapshot);
            heard = trouble.get();
        }
        return heard;
    }

    @Test
    void aCabinetThatNeverRanIsTrouble() {
        assertEquals(Optional.of("1 of 1 cabinets don't run"), trouble.get());
    }

    @Test
    void ticksThatStopAreTroubleAfterFifteenSeconds() {
        assertEquals(Optional.empty(), after(10));
        nanos.addAndGet(14_000_000_000L);
        assertEquals(Optional.empty(), trouble.get());
        nanos.addAndGet(1_000_000_000L);
        assertEquals(Optional.of("cabinet north is not controlled"), trouble.get());
        assertEquals(Optional.empty(), after(1));
    }

    @Test
    void anUrgentFindingIsLeftToAMonitorThatIsThere() {
        assertEquals(Optional.empty(), after(600, FindingCode.TOO_COLD));
    }

    @Test
    void withoutAMonitorAnUrgentFindingIsToldAfterTwoMinutes() {
        assertEquals(Optional.empty(), after(300, FindingCode.TOO_COLD));
        monitorThere.set(false);
        assertEquals(Optional.empty(), after(120, FindingCode.TOO_COLD));
        assertEquals(Optional.of("cabinet north: too-cold"), after(1, FindingCode.TOO_COLD));
        monitorThere.set(true);
        assertEquals(Optional.empty(), after(1, FindingCode.TOO_COLD));
    }

    @Test
    void whatCanWaitStopsNoCall() {
        monitorThere.set(false);
        assertEquals(
                Optional.empty(), after(600, FindingCode.CLOCK_UNTRUSTED, FindingCode.HEATER_WEAK));
    }
}
