package io.evenwarm.outside;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.net.httpserver.HttpServer;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** Against a real web server on the loopback network. */
@Timeout(60)
final class SwitchFeedTest {

    private static final String SECRET = "a-token-that-nobody-may-see";

    private final List<String> calls = new CopyOnWriteArrayList<>();
    private final AtomicInteger status = new AtomicInteger(204);
    private final HttpServer server;
    private volatile Optional<String> trouble = Optional.empty();

    SwitchFeedTest() throws IOException {
        server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        server.createContext(
                "/",
                exchange -> {
                    String body =
                            new String(
                                    exchange.getRequestBody().readAllBytes(),
                                    StandardCharsets.UTF_8);
                    calls.add(
                            exchange.getRequestMethod()
                                    + " "
                                    + exchange.getRequestURI().getPath()
                                    + " "
                                    + body);
                    exchange.getResponseHeaders().add("Location", "/elsewhere");
                    exchange.sendResponseHeaders(status.get(), -1);
                    exchange.close();
                });
        server.start();
    }

    @AfterEach
    void end() {
        server.stop(0);
    }

    private SwitchFeed feed() {
        return SwitchFeed.start(
                URI.create("http://127.0.0.1:" + server.getAddress().getPort() + "/feed/" + SECRET),
                "egg room",
                Duration.ofSeconds(1),
                Optional.empty(),
                () -> trouble);
    }

    @Test
    void callsAsLongAsAllIsWellAndNoLonger() throws InterruptedException {
        try (SwitchFeed feed = feed()) {
            Waiting.until("it calls", () -> calls.size() >= 2);
            Waiting.until("it feeds", () -> feed.state().fed());
            assertTrue(calls.get(0).startsWith("POST /feed/" + SECRET + " {"), calls.get(0));
            assertTrue(calls.get(0).contains("\"from\":\"egg room\""), calls.get(0));

            trouble = Optional.of("cabinet north is not controlled");
            Waiting.until("it feeds no more", () -> !feed.state().fed());
            int before = calls.size();
            TimeUnit.MILLISECONDS.sleep(2500);
            assertEquals(before, calls.size());
            assertEquals(
                    "not called, on purpose: cabinet north is not controlled",
                    feed.state().words());

            trouble = Optional.empty();
            Waiting.until("it feeds", () -> feed.state().fed());
        }
    }

    @Test
    void anAnswerThatIsNoYesAndARedirectDoNotCountAsFed() throws InterruptedException {
        status.set(500);
        try (SwitchFeed feed = feed()) {
            Waiting.until(
                    "it says why", () -> feed.state().words().equals("answered with status 500"));
            assertFalse(feed.state().fed());
            status.set(302);
            Waiting.until(
                    "it says why", () -> feed.state().words().equals("answered with status 302"));
            assertFalse(feed.state().fed());
            assertTrue(calls.stream().noneMatch(call -> call.contains("elsewhere")));
        }
    }

    @Test
    void aSwitchThatIsNotThereIsToldWithoutItsSecret() throws InterruptedException {
        server.stop(0);
        try (SwitchFeed feed = feed()) {
            Waiting.until("it says why", () -> feed.state().words().startsWith("can't be called"));
            assertFalse(feed.state().words().contains(SECRET), feed.state().words());
        }
    }

    @Test
    void aSwitchIsFedAtLeastEveryTwoMinutes() {
        assertThrows(
                IllegalArgumentException.class,
                () ->
                        SwitchFeed.start(
                                URI.create("http://127.0.0.1/"),
                                "x",
                                Duration.ofSeconds(121),
                                Optional.empty(),
                                Optional::empty));
    }
}
