package io.evenwarm.outside;

import io.evenwarm.codec.JsonText;
import java.io.IOException;
import java.lang.System.Logger.Level;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import javax.net.ssl.SSLContext;

/**
 * Calls an outside switch as long as all is well: a POST by HTTP, answered 200 to 299. A daemon
 * thread of its own does it; nobody waits for it.
 *
 * <p>The address is a secret, since whoever knows it can keep the switch quiet: only its host is
 * ever logged.
 */
public final class SwitchFeed implements AutoCloseable {

    private static final System.Logger LOG = System.getLogger(SwitchFeed.class.getName());
    private static final Duration ANSWER_MAX = Duration.ofSeconds(20);

    private final URI address;
    private final String name;
    private final Duration every;
    private final Supplier<Optional<String>> trouble;
    private final HttpClient client;
    private final CountDownLatch ended = new CountDownLatch(1);
    private final Thread thread;
    private String lastWords = "";
    private volatile State state = new State(Call.NONE_YET, 0, "not called yet");

    /** What became of the last call. */
    public enum Call {
        /** The feed has just begun. */
        NONE_YET,
        /** The switch has it. */
        TAKEN,
        /** It was not made, on purpose, because something is unwell. */
        WITHHELD,
        /** It did not reach the switch, or the switch refused it. */
        FAILED
    }

    /**
     * How the feed is doing.
     *
     * @param call what became of the last call
     * @param inARow how many calls in a row that became of
     * @param words why, for a person
     */
    public record State(Call call, int inARow, String words) {

        /** Whether the last call was made and taken. */
        public boolean fed() {
            return call == Call.TAKEN;
        }
    }

    private SwitchFeed(
            URI address,
            String name,
            Duration every,
            Optional<SSLContext> trust,
            Supplier<Optional<String>> trouble) {
        this.address = address;
        this.name = name;
        this.every = every;
        this.trouble = trouble;
        HttpClient.Builder builder =
                HttpClient.newBuilder()
                        .version(HttpClient.Version.HTTP_1_1)
                        .connectTimeout(ANSWER_MAX)
                        .followRedirects(HttpClient.Redirect.NEVER);
        trust.ifPresent(builder::sslContext);
        this.client = builder.build();
        this.thread = new Thread(this::run, "switch feed");
    }

    /**
     * Begins as planned; returns at once.
     *
     * @param name of this program, told to the switch
     * @param trouble asked before each call; words when something is unwell, and then no call is
     *     made
     */
    public static SwitchFeed start(FeedPlan plan, String name, Supplier<Optional<String>> trouble) {
        return start(plan.address(), name, plan.every(), plan.trust(), trouble);
    }

    /**
     * Begins; returns at once.
     *
     * @param address of the switch, with whatever secret it wants in it
     * @param name of this program, told to the switch
     * @param every time between two calls, 1 s to 2 min
     * @param trust for HTTPS; empty: the system's authorities
     * @param trouble asked before each call; words when something is unwell, and then no call is
     *     made
     */
    public static SwitchFeed start(
            URI address,
            String name,
            Duration every,
            Optional<SSLContext> trust,
            Supplier<Optional<String>> trouble) {
        if (every.compareTo(Duration.ofSeconds(1)) < 0
                || every.compareTo(Duration.ofMinutes(2)) > 0) {
            throw new IllegalArgumentException("a switch is fed every 1 s to 2 min, not " + every);
        }
        SwitchFeed feed = new SwitchFeed(address, name, every, trust, trouble);
        feed.thread.setDaemon(true);
        feed.thread.start();
        return feed;
    }

    private void run() {
        try {
            do {
                round();
            } while (!ended.await(every.toMillis(), TimeUnit.MILLISECONDS));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void round() throws InterruptedException {
        try {
            Optional<String> unwell = trouble.get();
            if (unwell.isPresent()) {
                tell(Call.WITHHELD, "not called, on purpose: " + unwell.get());
                return;
            }
            int status = call();
            boolean isTaken = status >= 200 && status < 300;
            tell(
                    isTaken ? Call.TAKEN : Call.FAILED,
                    isTaken ? "is called" : "answered with status " + status);
        } catch (IOException | RuntimeException e) {
            String words = e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
            tell(Call.FAILED, "can't be called: " + words.replace(address.toString(), host()));
        }
    }

    private int call() throws IOException, InterruptedException {
        HttpRequest request =
                HttpRequest.newBuilder(address)
                        .timeout(ANSWER_MAX)
                        .header("Content-Type", "application/json")
                        .POST(
                                HttpRequest.BodyPublishers.ofString(
                                        JsonText.object(Map.of("from", name, "well", true))))
                        .build();
        return client.send(request, HttpResponse.BodyHandlers.discarding()).statusCode();
    }

    private String host() {
        return String.valueOf(address.getHost());
    }

    private void tell(Call call, String words) {
        State before = state;
        state = new State(call, before.call() == call ? before.inARow() + 1 : 1, words);
        if (!words.equals(lastWords)) {
            lastWords = words;
            LOG.log(
                    call == Call.TAKEN ? Level.INFO : Level.WARNING,
                    "outside switch at {0}: {1}",
                    host(),
                    words);
        }
    }

    /** How the last call went. Any thread; never waits. */
    public State state() {
        return state;
    }

    /** No call is begun after this. */
    @Override
    public void close() {
        ended.countDown();
        thread.interrupt();
    }
}
