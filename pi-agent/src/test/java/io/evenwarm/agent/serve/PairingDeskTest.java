package io.evenwarm.agent.serve;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.port.PairedMonitors.Paired;
import io.evenwarm.link.Identity;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.PairingCode;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Message;
import io.evenwarm.message.Role;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** When somebody new may come in, and who is remembered then. */
final class PairingDeskTest {

    private static final Identity AGENT = Identity.create("evenwarm");
    private static final KeyPin MONITOR = Identity.create("desk").pin();
    private static final String NONCE = "44".repeat(32);

    private final HandClock clock = new HandClock();
    private final ListedMonitors monitors = new ListedMonitors();
    private final PairingDesk desk =
            new PairingDesk(new AgentName("egg room"), monitors, () -> AGENT, clock);

    private PairingDesk.Window open(Role role) {
        return desk.open(role, () -> {});
    }

    private PairingDesk.Attempt ask() {
        return desk.begin(MONITOR, "desk", () -> {});
    }

    /** As far as both show their digits. */
    private PairingDesk.Attempt askAndShow() {
        PairingDesk.Attempt attempt = ask();
        assertTrue(attempt.commit().isPresent());
        assertTrue(attempt.revealed(NONCE).isPresent());
        return attempt;
    }

    private static String words(PairingDesk.Attempt attempt) {
        return attempt.result().map(result -> result.outcome().words()).orElse("not known yet");
    }

    private static Message.PairState news(PairingDesk.Window window) {
        return window.news().orElseThrow();
    }

    @Test
    void nobodyIsLetInWhileNobodyAskedForIt() {
        assertFalse(desk.admits(MONITOR));
        assertEquals(
                "not paired: pairing is not open at the agent: run evenwarm-agent pair",
                words(ask()));
        monitors.with(MONITOR, Role.LOOK);
        assertTrue(desk.admits(MONITOR), "a paired one needs no window");
    }

    @Test
    void bothPersonsSayYesAndThenTheKeyIsRememberedWithItsRole() {
        PairingDesk.Window window = open(Role.LOOK);
        assertTrue(desk.admits(MONITOR));
        PairingDesk.Attempt attempt = askAndShow();
        Message.PairState shown = news(window);
        assertEquals(Optional.of("desk"), shown.monitor());
        assertEquals(Optional.of(MONITOR.toString()), shown.key());
        attempt.said(true);
        assertEquals(Map.of(), monitors.all(), "one yes is not enough");
        assertEquals(Optional.empty(), attempt.result());
        window.said(true);
        assertEquals(Map.of(MONITOR, new Paired(MONITOR, Role.LOOK, "desk")), monitors.all());
        Message.PairResult result = attempt.result().orElseThrow();
        assertEquals(Optional.of(Role.LOOK), result.role());
        assertEquals(Optional.of("egg room"), result.name());
        Message.PairState last = news(window);
        assertTrue(last.paired() && !last.open(), last.toString());
        assertFalse(desk.admits(Identity.create("next").pin()), "one pairing, one window");
    }

    @Test
    void theDigitsAreThoseThatTheMonitorComputesFromWhatItSees() {
        PairingDesk.Window window = open(Role.OPERATE);
        PairingDesk.Attempt attempt = ask();
        Message.PairCommit commit = (Message.PairCommit) attempt.commit().orElseThrow();
        Message.PairReveal reveal = (Message.PairReveal) attempt.revealed(NONCE).orElseThrow();
        assertEquals(
                commit.commitment(), PairingCode.commitment(AGENT.pin(), MONITOR, reveal.nonce()));
        assertEquals(
                Optional.of(PairingCode.code(AGENT.pin(), MONITOR, reveal.nonce(), NONCE)),
                news(window).code());
        assertEquals(Optional.empty(), attempt.revealed("55".repeat(32)), "a nonce is said once");
        assertEquals(
                Optional.of(PairingCode.code(AGENT.pin(), MONITOR, reveal.nonce(), NONCE)),
                withNews(window).code());
    }

    private Message.PairState withNews(PairingDesk.Window window) {
        window.said(true);
        return news(window);
    }

    @Test
    void noAtEitherEndIsNo() {
        PairingDesk.Window window = open(Role.OPERATE);
        PairingDesk.Attempt first = askAndShow();
        first.said(true);
        window.said(false);
        assertEquals(
                "not paired: the person at the agent said that the digits differ, or no",
                words(first));
        PairingDesk.Attempt second = askAndShow();
        window.said(true);
        second.said(false);
        assertEquals(
                "not paired: the person at the monitor said that the digits differ, or no",
                words(second));
        assertEquals(Map.of(), monitors.all());
    }

    @Test
    void aYesToDigitsThatWereNeverShownIsNone() {
        PairingDesk.Window window = open(Role.OPERATE);
        PairingDesk.Attempt attempt = ask();
        attempt.said(true);
        window.said(true);
        assertTrue(attempt.revealed(NONCE).isPresent());
        assertEquals(Optional.empty(), attempt.result());
        window.said(true);
        assertEquals(Optional.empty(), attempt.result(), "the monitor's yes came too soon");
        assertEquals(Map.of(), monitors.all());
    }

    @Test
    void afterFiveTriesItIsOver() {
        PairingDesk.Window window = open(Role.OPERATE);
        for (int i = 0; i < PairingDesk.TRIES; i++) {
            assertTrue(desk.isOpen(), "try " + i);
            askAndShow().said(false);
        }
        assertFalse(desk.isOpen());
        Message.PairState last = news(window);
        assertFalse(last.open() || last.paired());
        assertTrue(last.words().contains("the last of 5 tries"), last.words());
        assertEquals(
                "not paired: pairing is not open at the agent: run evenwarm-agent pair",
                words(ask()));
    }

    @Test
    void aMonitorThatGoesAwayHasHadItsTry() {
        PairingDesk.Window window = open(Role.OPERATE);
        askAndShow().close();
        Message.PairState after = news(window);
        assertEquals(PairingDesk.TRIES - 1, after.triesLeft());
        assertEquals("not paired: the monitor has gone", after.words());
        assertEquals(Optional.empty(), after.code());
    }

    @Test
    void afterFiveMinutesItIsOverAlsoInTheMiddleOfATry() {
        PairingDesk.Window window = open(Role.OPERATE);
        PairingDesk.Attempt attempt = askAndShow();
        attempt.said(true);
        clock.advanceSeconds(PairingDesk.OPEN_SECONDS);
        assertTrue(desk.isOpen());
        clock.advanceSeconds(1);
        assertFalse(desk.isOpen());
        window.said(true);
        assertEquals("not paired: pairing has ended", words(attempt));
        assertEquals(Map.of(), monitors.all());
        assertEquals("nobody was paired in 5 minutes", news(window).words());
    }

    @Test
    void itIsOverWhenTheCommandAtTheAgentEnds() {
        PairingDesk.Window window = open(Role.OPERATE);
        PairingDesk.Attempt attempt = askAndShow();
        window.close();
        assertFalse(desk.admits(MONITOR));
        assertEquals("not paired: pairing has ended", words(attempt));
    }

    @Test
    void oneCommandAndOneMonitorAtATime() {
        PairingDesk.Window window = open(Role.OPERATE);
        PairingDesk.Window second = open(Role.LOOK);
        assertEquals("pairing is open already: end the other command first", news(second).words());
        second.close();
        assertTrue(desk.isOpen(), "the first goes on");
        askAndShow();
        assertEquals(
                "not paired: another monitor is being paired: try again after it", words(ask()));
        window.close();
    }

    @Test
    void aPairingThatCannotBeStoredIsRefused() {
        monitors.fail();
        PairingDesk.Window window = open(Role.OPERATE);
        PairingDesk.Attempt attempt = askAndShow();
        attempt.said(true);
        window.said(true);
        assertEquals(
                "not paired: the agent can't remember it: the disk is on strike", words(attempt));
        assertFalse(news(window).paired());
    }

    @Test
    void theAgentsOwnKeyShownBackToItIsRefused() {
        open(Role.OPERATE);
        PairingDesk.Attempt mirrored = desk.begin(AGENT.pin(), "desk", () -> {});
        assertEquals("not paired: a monitor needs a key of its own", words(mirrored));
    }
}
