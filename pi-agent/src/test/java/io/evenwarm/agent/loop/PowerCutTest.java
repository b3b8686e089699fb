package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.Moment;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

/** A machine that was off, and a fan that stood still while the agent had a battery. */
final class PowerCutTest {

    private static final Instant CUT = Instant.parse("2026-03-01T03:00:00Z");

    private final TestCabinet cabinet =
            new TestCabinet(Plans.withDoorAndTachometer(Plans.threeProbes()), new MemoryStores());

    private String evidence() {
        return cabinet.last == null
                ? ""
                : cabinet.last.findings().stream()
                        .filter(one -> one.code().equals(FindingCode.MAINS_RETURNED))
                        .map(Finding::evidence)
                        .findFirst()
                        .orElse("");
    }

    @Test
    void aStartAfterAPowerCutIsToldForAnHour() {
        cabinet.loop.machineWasOff(Optional.empty());
        cabinet.run(10, 25);
        assertTrue(evidence().startsWith("this machine was off; for how long is known once"));
        cabinet.run(3592, 31.5);
        assertFalse(cabinet.has(FindingCode.MAINS_RETURNED));
    }

    @Test
    void aStartAfterACleanEndIsNot() {
        cabinet.run(10, 25);
        assertFalse(cabinet.has(FindingCode.MAINS_RETURNED));
    }

    @Test
    void howLongItWasOffIsCountedOnceTheClockIsTrusted() {
        PowerCut cut = new PowerCut();
        cut.note(Optional.of(CUT));
        cut.see(new Moment(cabinet.boot, 0, CUT, false));
        assertEquals(OptionalDouble.empty(), cut.offSeconds());
        cut.see(new Moment(cabinet.boot, 120 * TestCabinet.SECOND, CUT.plusSeconds(7320), true));
        assertEquals(OptionalDouble.of(7200), cut.offSeconds());
        cut.see(new Moment(cabinet.boot, 240 * TestCabinet.SECOND, CUT.plusSeconds(7440), true));
        assertEquals(OptionalDouble.of(7200), cut.offSeconds());
    }

    @Test
    void aClockThatIsBeforeTheCutSaysNothing() {
        PowerCut cut = new PowerCut();
        cut.note(Optional.of(CUT));
        cut.see(new Moment(cabinet.boot, 0, CUT.minusSeconds(60), true));
        assertTrue(cut.hasBeen());
        assertEquals(OptionalDouble.empty(), cut.offSeconds());
    }

    @Test
    void aFanThatStoodStillAndTurnsAgainTellsThatTheMainsAreBack() {
        cabinet.run(60, 31.5);
        cabinet.fanTurns = OptionalDouble.of(0);
        cabinet.run(600, 31.5);
        assertFalse(cabinet.has(FindingCode.MAINS_RETURNED));
        cabinet.fanTurns = OptionalDouble.of(1500);
        cabinet.run(2, 31.5);
        assertTrue(evidence().startsWith("the fan stood still for 10 min and turns again"));
    }
}
