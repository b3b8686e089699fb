package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** This machine's clock is doubted only where agents' clocks that were set from outside say so. */
final class ClockWatchTest {

    private static final Instant TRUE = Instant.parse("2026-03-01T03:00:00Z");
    private static final long SECOND = 1_000_000_000L;

    private final ClockWatch watch = new ClockWatch();

    private static LiveCabinet cabinet(
            long secondsOff, boolean isTrusted, Liveness liveness, double rate) {
        Temperature air = Temperature.ofCelsius(31.5);
        return new LiveCabinet(
                new CabinetKey(new AgentName("egg room"), new CabinetName("north")),
                new CabinetSnapshot(
                        new CabinetName("north"),
                        1,
                        new Moment(
                                new BootId(new UUID(1, 2)),
                                0,
                                TRUE.plusSeconds(secondsOff).minusSeconds(3),
                                isTrusted),
                        List.of(),
                        Optional.of(air),
                        air,
                        air,
                        new Limits(
                                Temperature.ofCelsius(30.5),
                                Temperature.ofCelsius(32.5),
                                Temperature.ofCelsius(33.5),
                                Temperature.ofCelsius(34.5)),
                        Duty.OFF,
                        false,
                        Optional.empty(),
                        Optional.empty(),
                        GuardState.ALLOWING,
                        List.of(),
                        false),
                liveness,
                Duration.ofSeconds(3),
                rate);
    }

    private Optional<String> afterThreeMinutes(LiveCabinet... cabinets) {
        Optional<String> words = Optional.empty();
        for (int second = 0; second <= 180; second++) {
            words = watch.look(List.of(cabinets), TRUE, second * SECOND);
        }
        return words;
    }

    @Test
    void aClockThatDiffersFromEveryTrustedOneForTwoMinutesIsDoubted() {
        LiveCabinet other = cabinet(-90, true, Liveness.LIVE, 1);
        assertEquals(Optional.empty(), watch.look(List.of(other), TRUE, 0));
        assertEquals(Optional.empty(), watch.look(List.of(other), TRUE, 119 * SECOND));
        String words = watch.look(List.of(other), TRUE, 120 * SECOND).orElseThrow();
        assertTrue(words.contains("90 s ahead of"), words);
        LiveCabinet ahead = cabinet(3600, true, Liveness.LIVE, 1);
        words = watch.look(List.of(ahead), TRUE, 121 * SECOND).orElseThrow();
        assertTrue(words.contains("3600 s behind"), words);
        assertEquals(
                Optional.empty(),
                watch.look(List.of(cabinet(60, true, Liveness.LIVE, 1)), TRUE, 122 * SECOND));
    }

    @Test
    void oneThatAgreesWithAnyIsBelievedAndOthersProveNothing() {
        assertEquals(Optional.empty(), afterThreeMinutes());
        assertEquals(
                Optional.empty(),
                afterThreeMinutes(
                        cabinet(-90, true, Liveness.LIVE, 1), cabinet(2, true, Liveness.LIVE, 1)));
        assertEquals(Optional.empty(), afterThreeMinutes(cabinet(-90, false, Liveness.LIVE, 1)));
        assertEquals(Optional.empty(), afterThreeMinutes(cabinet(-90, true, Liveness.STALE, 1)));
        assertEquals(Optional.empty(), afterThreeMinutes(cabinet(-90, true, Liveness.LIVE, 60)));
    }
}
