package io.evenwarm.monitor.app;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.monitor.notice.Channel;
import io.evenwarm.monitor.notice.Contact;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.NoticePriority;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;
import picocli.CommandLine.Spec;

/** {@code evenwarm notices}: the ways to people. */
@Command(
        name = "notices",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = "Tries the ways to people.",
        subcommands = NoticesCommand.Test.class)
final class NoticesCommand implements Callable<Integer> {

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Spec private @Nullable CommandSpec spec;

    private Evenwarm program() {
        return Parents.of(evenwarm);
    }

    @Override
    public Integer call() {
        throw new ParameterException(
                Parents.given(spec).commandLine(), "say what to do, for example notices test NAME");
    }

    /** {@code evenwarm notices test}. */
    @Command(
            name = "test",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description =
                    "Sends a marked test notice to a person, by each of their channels, and prints"
                            + " what each answered and how long it took. 1 when one did not take"
                            + " it. Works while a monitor runs; quiet hours are not heard.")
    static final class Test implements Callable<Integer> {

        @ParentCommand private @Nullable NoticesCommand notices;

        @Parameters(paramLabel = "PERSON", description = "as the settings name them")
        private @Nullable String person;

        @Option(names = "--json", description = "print one JSON object")
        private boolean asJson;

        private final MonotonicClock monotonic = SystemClock.monotonic();
        private final WallClock wall = SystemClock.wall();

        /** What one channel answered. */
        private record Answer(ChannelSettings channel, Delivery delivery, long millis) {

            boolean isDelivered() {
                return word().equals("delivered");
            }

            String word() {
                return delivery.fold(
                        delivered -> "delivered", again -> "try again", refused -> "refused");
            }
        }

        @Override
        public Integer call() {
            Evenwarm program = Parents.given(notices).program();
            Optional<MonitorSettings> settings = program.settings();
            if (settings.isEmpty()) {
                return Evenwarm.BAD_INPUT;
            }
            List<Contact> chain = settings.get().notices().plan().chain();
            String name = Parents.given(person);
            Optional<Contact> contact =
                    chain.stream().filter(there -> there.person().equals(name)).findFirst();
            if (contact.isEmpty()) {
                program.output()
                        .err()
                        .println(
                                "PERSON must be one of the settings: "
                                        + chain.stream().map(Contact::person).toList()
                                        + ", but was "
                                        + name);
                return Evenwarm.BAD_INPUT;
            }
            List<Answer> answers = new ArrayList<>();
            Notice notice = notice(name);
            for (ChannelSettings channel : settings.get().notices().channels()) {
                if (contact.get().channels().contains(channel.name())) {
                    answers.add(answer(channel, notice, contact.get()));
                }
            }
            print(program.output(), answers);
            return answers.stream().allMatch(Answer::isDelivered) ? Evenwarm.OK : Evenwarm.FAILED;
        }

        private Notice notice(String name) {
            return new Notice(
                    "test-" + UUID.randomUUID(),
                    1,
                    NoticeKind.DRILL,
                    wall.now(),
                    NoticePriority.HIGH,
                    "TEST, nothing is wrong: this is how evenwarm reaches " + name,
                    """
                    This is a test. Nothing is wrong, and nothing must be done.

                    When eggs are in danger, a notice comes the same way.
                    """,
                    List.of());
        }

        private Answer answer(ChannelSettings settings, Notice notice, Contact contact) {
            long began = monotonic.nanos();
            try (Channel channel = settings.open(wall)) {
                Delivery delivery = channel.deliver(notice, contact.recipient());
                return new Answer(
                        settings,
                        delivery,
                        TimeUnit.NANOSECONDS.toMillis(monotonic.nanos() - began));
            }
        }

        private void print(Output output, List<Answer> answers) {
            if (!asJson) {
                answers.forEach(
                        answer ->
                                output.out()
                                        .println(
                                                answer.channel().name()
                                                        + " ("
                                                        + answer.channel().kind()
                                                        + "): "
                                                        + answer.word()
                                                        + " after "
                                                        + answer.millis()
                                                        + " ms: "
                                                        + answer.delivery().words()));
                return;
            }
            output.out()
                    .println(
                            Json.object(
                                    Json.member("person", Json.text(Parents.given(person))),
                                    Json.member(
                                            "channels",
                                            Json.array(
                                                    answers.stream().map(Test::json).toList()))));
        }

        private static String json(Answer answer) {
            return Json.object(
                    Json.member("channel", Json.text(answer.channel().name())),
                    Json.member("kind", Json.text(answer.channel().kind())),
                    Json.member("answer", Json.text(answer.word())),
                    Json.member("words", Json.text(answer.delivery().words())),
                    Json.member("millis", Long.toString(answer.millis())));
        }
    }
}
