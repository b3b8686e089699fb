package io.evenwarm.agent.serve;

import static io.evenwarm.agent.Snapshots.cabinet;
import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.agent.HandClock;
import io.evenwarm.link.Identity;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.Hello;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.Role;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** Whose word about the time an agent hears: it dates what is kept. */
final class ToldTimeTest {

    private static final Identity LOOKER = Identity.create("looker");
    private static final Identity OPERATOR = Identity.create("operator");
    private static final Instant NOON = Instant.parse("2026-03-01T12:00:00Z");
    private static final String CLOCK = "not set since the boot: dates are corrected once it is";

    private final HandClock clock = new HandClock();
    private final List<String> told = new ArrayList<>();
    private final RunState run =
            new RunState() {
                @Override
                public Optional<PreviousRun> previousRun() {
                    return Optional.empty();
                }

                @Override
                public Optional<String> clockWords() {
                    return Optional.of(CLOCK);
                }

                @Override
                public void timeTold(String by, Instant wall, long askedAtNanos) {
                    told.add(by + " " + wall + " " + askedAtNanos);
                }
            };
    private final ServeContext context =
            AgentRig.context(
                    new SnapshotBoard(List.of(cabinet("north"))),
                    new ListJournal(),
                    new HeldCommands(),
                    clock,
                    run,
                    new PairingDesk(
                            new AgentName("egg room"),
                            new ListedMonitors()
                                    .with(LOOKER.pin(), Role.LOOK)
                                    .with(OPERATOR.pin(), Role.OPERATE),
                            () -> AgentRig.IDENTITY,
                            clock));

    private List<Message> say(Peer peer, Hello.Side side, Message message) {
        List<Message> heard = new ArrayList<>();
        try (Session session = new Session(context, peer, true, 64, () -> {}, clock.nanos())) {
            Hello hello = new Hello(List.of(1), side, "desk", "monitor 1", 1);
            for (Message each : List.of(hello, message)) {
                session.received(each, clock.nanos());
                for (int i = 0; i < 20; i++) {
                    session.next(clock.nanos()).ifPresent(heard::add);
                }
            }
        }
        return heard;
    }

    private static Message.Time time(Optional<Long> answers) {
        return new Message.Time(new Moment(new BootId(new UUID(7, 7)), 5, NOON, true), answers);
    }

    @Test
    void aMonitorThatMayOperateTellsTheTime() {
        say(new Peer.Keyed(OPERATOR.pin()), Hello.Side.MONITOR, time(Optional.of(7L)));
        assertEquals(List.of("desk " + NOON + " 7"), told);
    }

    @Test
    void nobodyElseDoes() {
        say(new Peer.Keyed(LOOKER.pin()), Hello.Side.MONITOR, time(Optional.of(7L)));
        say(
                new Peer.Keyed(Identity.create("stranger").pin()),
                Hello.Side.MONITOR,
                time(Optional.of(7L)));
        say(new Peer.Line(), Hello.Side.MONITOR, time(Optional.of(7L)));
        say(new Peer.Trusted(), Hello.Side.LOCAL, time(Optional.of(7L)));
        assertEquals(List.of(), told);
    }

    @Test
    void aTimeThatAnswersNothingIsNoAnswer() {
        say(new Peer.Keyed(OPERATOR.pin()), Hello.Side.MONITOR, time(Optional.empty()));
        assertEquals(List.of(), told, "nobody knows how long it was on its way");
    }

    @Test
    void theStatusSaysWhetherTheClockIsRightAndWhoSaidSo() {
        List<Message> heard =
                say(new Peer.Trusted(), Hello.Side.LOCAL, new Message.StatusRequest());
        assertEquals(
                List.of(
                        new Message.StatusEnd(
                                Optional.empty(), Optional.empty(), Optional.of(CLOCK))),
                heard.stream().filter(Message.StatusEnd.class::isInstance).toList());
    }
}
