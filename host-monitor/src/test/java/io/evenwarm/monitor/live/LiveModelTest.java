package io.evenwarm.monitor.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.LiveModel.LinkState;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

/** An old number never looks alive. */
final class LiveModelTest {

    private static final AgentName AGENT = new AgentName("egg room");
    private static final AgentName OTHER = new AgentName("shed");

    private final AtomicLong nanos = new AtomicLong(-5_000_000_000L);
    private final LiveModel model = new LiveModel(nanos::get, List.of(OTHER, AGENT));

    private void pass(long millis) {
        nanos.addAndGet(millis * 1_000_000);
    }

    private static CabinetSnapshot snapshot(String cabinet, long tick) {
        Temperature t = Temperature.ofCelsius(31.5);
        return new CabinetSnapshot(
                new CabinetName(cabinet),
                tick,
                new Moment(new BootId(new UUID(1, 1)), tick, Instant.EPOCH, true),
                List.of(),
                Optional.of(t),
                t,
                t,
                new Limits(t, t, t, t),
                Duty.OFF,
                false,
                Optional.empty(),
                Optional.empty(),
                GuardState.ALLOWING,
                List.of(),
                false);
    }

    private Liveness liveness() {
        return model.cabinets().get(0).liveness();
    }

    @Test
    void aCabinetFadesFromLiveToStaleToLost() {
        model.linkChanged(AGENT, LinkState.up("connected"));
        model.received(AGENT, 1, snapshot("north", 1));
        assertEquals(Liveness.LIVE, liveness());
        pass(5000);
        assertEquals(Liveness.LIVE, liveness());
        pass(1);
        assertEquals(Liveness.STALE, liveness());
        pass(24_999);
        assertEquals(Liveness.STALE, liveness());
        pass(1);
        assertEquals(Liveness.LOST, liveness());
        assertEquals(Duration.ofMillis(30_001), model.cabinets().get(0).sinceReceived());
        model.received(AGENT, 1, snapshot("north", 2));
        assertEquals(Liveness.LIVE, liveness());
    }

    @Test
    void aCabinetIsLostAtOnceWhenItsLinkIsDownAndStaysSoUntilANewSnapshot() {
        model.linkChanged(AGENT, LinkState.up("connected"));
        model.received(AGENT, 1, snapshot("north", 1));
        model.linkChanged(AGENT, LinkState.down("link lost"));
        assertEquals(Liveness.LOST, liveness());
        pass(6000);
        model.linkChanged(AGENT, LinkState.up("connected"));
        assertEquals(Liveness.STALE, liveness(), "the link is back but the number is old");
    }

    @Test
    void theNewestSnapshotWinsEvenWithALowerTick() {
        model.linkChanged(AGENT, LinkState.up("connected"));
        model.received(AGENT, 1, snapshot("north", 500));
        model.received(AGENT, 60, snapshot("north", 1));
        assertEquals(1, model.cabinets().get(0).snapshot().tick(), "the agent was started anew");
        assertEquals(60, model.cabinets().get(0).clockRate());
    }

    @Test
    void cabinetsAndAgentsComeInOrderOfTheirNames() {
        model.received(OTHER, 1, snapshot("a", 1));
        model.received(AGENT, 1, snapshot("south", 1));
        model.received(AGENT, 1, snapshot("north", 1));
        assertEquals(
                List.of(
                        new CabinetKey(AGENT, new CabinetName("north")),
                        new CabinetKey(AGENT, new CabinetName("south")),
                        new CabinetKey(OTHER, new CabinetName("a"))),
                model.cabinets().stream().map(LiveCabinet::key).toList());
        assertEquals(
                List.of(AGENT, OTHER), model.agents().stream().map(AgentState::agent).toList());
    }

    @Test
    void theWordsCountDownToTheNextTry() {
        String words = "can't reach 192.0.2.20:4770: connection refused";
        model.linkChanged(AGENT, LinkState.downUntil(words, nanos.get() + 8_000_000_000L));
        assertEquals(words + "; next try in 8 s", model.agents().get(0).words());
        pass(7001);
        assertEquals(words + "; next try in 1 s", model.agents().get(0).words());
        pass(999);
        assertEquals(words + "; trying again", model.agents().get(0).words());
        assertFalse(model.agents().get(0).connected());
        assertEquals("not connected yet", model.agents().get(1).words());
    }

    @Test
    void listenersHearOfEveryChangeUntilTheyEnd() {
        AtomicInteger calls = new AtomicInteger();
        Runnable end = model.onChange(calls::incrementAndGet);
        model.linkChanged(AGENT, LinkState.up("connected"));
        model.received(AGENT, 1, snapshot("north", 1));
        assertEquals(2, calls.get());
        end.run();
        model.received(AGENT, 1, snapshot("north", 2));
        assertEquals(2, calls.get());
        assertTrue(model.agents().get(0).connected());
    }
}
