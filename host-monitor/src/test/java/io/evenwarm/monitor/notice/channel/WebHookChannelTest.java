package io.evenwarm.monitor.notice.channel;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.sun.net.httpserver.Headers;
import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpsConfigurator;
import com.sun.net.httpserver.HttpsServer;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.Notices;
import io.evenwarm.monitor.notice.Secret;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Web hooks, by a real HTTPS server. */
final class WebHookChannelTest {

    /** The key of the specification's own example. */
    private static final String KEY = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";

    private static final Instant NOW = Instant.ofEpochSecond(1_614_265_330);

    /** What one request brought. */
    private record Request(String method, String path, Headers headers, String body) {}

    private final TestCertificate certificate = TestCertificate.forHost("localhost");
    private final TrustedRoots roots;
    private final HttpsServer server;
    private final ExecutorService threads = Executors.newCachedThreadPool();
    private final List<Request> requests = new CopyOnWriteArrayList<>();

    /** Generous, so that a busy machine fails no test; short only where the limit is the matter. */
    private Duration limit = Duration.ofSeconds(30);

    WebHookChannelTest(@TempDir Path folder) throws IOException {
        roots = certificate.trusted(folder);
        server = serverWith(certificate);
    }

    private HttpsServer serverWith(TestCertificate shown) throws IOException {
        HttpsServer made =
                HttpsServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 10);
        made.setHttpsConfigurator(new HttpsConfigurator(shown.serverContext()));
        made.setExecutor(threads);
        made.createContext("/answer/", this::answer);
        made.createContext(
                "/hang",
                exchange -> {
                    try {
                        TimeUnit.SECONDS.sleep(60);
                    } catch (InterruptedException e) {
                        Thread.currentThread().interrupt();
                    }
                });
        made.createContext("/trickle", WebHookChannelTest::trickle);
        made.start();
        return made;
    }

    @AfterEach
    void close() {
        server.stop(0);
        threads.shutdownNow();
    }

    /** Answers with the number at the end of the path. */
    private void answer(HttpExchange exchange) throws IOException {
        try (exchange) {
            requests.add(
                    new Request(
                            exchange.getRequestMethod(),
                            exchange.getRequestURI().getPath(),
                            exchange.getRequestHeaders(),
                            new String(
                                    exchange.getRequestBody().readAllBytes(),
                                    StandardCharsets.UTF_8)));
            String path = exchange.getRequestURI().getPath();
            int status = Integer.parseInt(path.substring(path.lastIndexOf('/') + 1));
            if (status / 100 == 3) {
                exchange.getResponseHeaders()
                        .set("Location", "https://localhost:" + port() + "/answer/200");
            }
            if (status == 503 || status == 429) {
                exchange.getResponseHeaders().set("Retry-After", status == 503 ? "120" : "999999");
            }
            exchange.sendResponseHeaders(status, -1);
        }
    }

    /** Answers at once, and then never ends. */
    private static void trickle(HttpExchange exchange) throws IOException {
        try (exchange) {
            exchange.sendResponseHeaders(200, 0);
            for (int i = 0; i < 1000; i++) {
                exchange.getResponseBody().write('x');
                exchange.getResponseBody().flush();
                TimeUnit.MILLISECONDS.sleep(50);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private int port() {
        return server.getAddress().getPort();
    }

    private WebHookChannel channel(String path) {
        return channel("https://localhost:" + port() + path, JsonTemplate.USUAL, roots);
    }

    private WebHookChannel channel(String address, JsonTemplate template, TrustedRoots believed) {
        return new WebHookChannel(
                "hook",
                new WebHookTarget(
                        new Secret(address),
                        template,
                        Optional.of(new WebHookSignature(new Secret(KEY))),
                        believed,
                        limit),
                new WallClock() {
                    @Override
                    public Instant now() {
                        return NOW;
                    }

                    @Override
                    public boolean isTrusted() {
                        return true;
                    }
                });
    }

    private Delivery deliver(String path) {
        return channel(path).deliver(Notices.first("e1"), Notices.KEEPER);
    }

    /** Standard Webhooks, "Signature scheme": the example of its reference libraries. */
    @Test
    void theSignatureIsThatOfTheSpecificationsExample() {
        assertEquals(
                "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=",
                new WebHookSignature(new Secret(KEY))
                        .of(
                                "msg_p5jXN8AQM9LWM0D4loKWxJek",
                                NOW,
                                "{\"test\": 2432232314}".getBytes(StandardCharsets.UTF_8)));
    }

    @Test
    void aKeyThatIsNoneIsRefusedWithoutSayingIt() {
        for (String text :
                List.of("hunter2", "whsec_!!!", "whsec_aHVudGVyMg==", KEY.substring(6))) {
            String said =
                    assertThrows(
                                    IllegalArgumentException.class,
                                    () -> new WebHookSignature(new Secret(text)))
                            .getMessage();
            assertEquals("a signing key must be whsec_ and 24 to 64 octets in Base64", said);
        }
    }

    /** Standard Webhooks, "Webhook headers": the id stays, the time is that of the attempt. */
    @Test
    void aNoticeIsPostedAsSignedJson() throws IOException {
        assertEquals(new Delivery.Delivered("answered 204"), deliver("/answer/204"));
        deliver("/answer/204");
        Request request = requests.get(0);
        assertEquals("POST", request.method());
        assertEquals("application/json", request.headers().getFirst("Content-Type"));
        String id = request.headers().getFirst("webhook-id");
        assertTrue(id.matches("msg_" + Notices.first("e1").id() + "_[0-9a-f]{8}"), id);
        assertEquals(id, requests.get(1).headers().getFirst("webhook-id"));
        assertEquals("1614265330", request.headers().getFirst("webhook-timestamp"));
        assertEquals(
                new WebHookSignature(new Secret(KEY))
                        .of(id, NOW, request.body().getBytes(StandardCharsets.UTF_8)),
                request.headers().getFirst("webhook-signature"));
        JsonNode json = JsonMapper.builder().build().readTree(request.body());
        assertEquals("evenwarm.notice.first", json.get("type").asText());
        assertEquals("2030-03-01T02:04:00Z", json.get("timestamp").asText());
        assertEquals(Notices.first("e1").body(), json.get("data").get("body").asText());
        JsonNode cabinet = json.get("data").get("cabinets").get(0);
        assertEquals("north", cabinet.get("cabinet").asText());
        assertEquals(26.14, cabinet.get("topCelsius").asDouble());
        assertEquals(12_000, cabinet.get("timeLeftSeconds").asLong());
    }

    @Test
    void nothingThatANoticeSaysChangesTheFormOfItsJson() throws IOException {
        String name = "x\"}, \"admin\": {\"a\": \"{{body}} \\ \n";
        Notice notice = Notices.of("e1", 1, NoticeKind.FIRST, Notices.cold(name));
        channel(
                        "https://localhost:" + port() + "/answer/200",
                        JsonTemplate.parse("{\"t\": [\"{{cabinets}}!\", 1, null, \"{{person}}\"]}"),
                        roots)
                .deliver(notice, Notices.KEEPER);
        JsonNode json = JsonMapper.builder().build().readTree(requests.get(0).body());
        assertEquals(1, json.size());
        assertEquals(name + "!", json.get("t").get(0).asText());
        assertEquals("keeper", json.get("t").get(3).asText());
    }

    @Test
    void aTemplateWithAMissingFieldIsRefusedAtStart() {
        for (String[] row :
                new String[][] {
                    {
                        "{\"t\": {\"u\": [\"{{subjekt}}\"]}}",
                        "there is no field {{subjekt}}; there are id, event, revision, kind, at,"
                                + " priority, subject, body, person, cabinets, acknowledge"
                    },
                    {
                        "{\"t\": \"{{}}\"}",
                        "there is no field {{}}; there are id, event, revision,"
                                + " kind, at, priority, subject, body, person, cabinets, acknowledge"
                    },
                    {"{\"t\": \"{{subject\"}", "a {{ has no }}"},
                    {"[1]", "it must be a JSON object"},
                    {"{} {}", "it is not JSON: "},
                    {"{\"t\": {{subject}}}", "it is not JSON: "}
                }) {
            String said =
                    String.valueOf(
                            assertThrows(
                                            IllegalArgumentException.class,
                                            () -> JsonTemplate.parse(row[0]))
                                    .getMessage());
            assertTrue(said.startsWith(row[1]), said);
        }
    }

    /** RFC 9110 s.15, and s.10.2.3 for Retry-After. */
    @Test
    void eachAnswerIsDeliveredTriedAgainOrRefusedByItsClass() {
        assertEquals(new Delivery.TryAgain("answered 500", Duration.ZERO), deliver("/answer/500"));
        assertEquals(
                new Delivery.TryAgain("answered 503", Duration.ofMinutes(2)),
                deliver("/answer/503"));
        assertEquals(
                new Delivery.TryAgain("answered 429", Duration.ofHours(1)),
                deliver("/answer/429"),
                "nobody waits for eleven days");
        assertEquals(new Delivery.Refused("answered 410"), deliver("/answer/410"));
        assertEquals(
                new Delivery.TryAgain(
                        "answered 401: are address and key right?", Duration.ofMinutes(5)),
                deliver("/answer/401"));
    }

    @Test
    void aRedirectIsNotFollowed() {
        for (int status : new int[] {301, 302, 307, 308}) {
            requests.clear();
            assertEquals(
                    new Delivery.Refused(
                            "answered "
                                    + status
                                    + ", a redirect: those are not followed; set the final"
                                    + " address"),
                    deliver("/answer/" + status));
            assertEquals(1, requests.size());
        }
    }

    @Test
    void aReceiverThatHangsIsGivenUpInTime() {
        limit = Duration.ofSeconds(2);
        MonotonicClock clock = SystemClock.monotonic();
        long began = clock.nanos();
        Delivery delivery = deliver("/hang");
        long millis = (clock.nanos() - began) / 1_000_000;
        assertInstanceOf(Delivery.TryAgain.class, delivery);
        assertTrue(millis >= 1900 && millis < 10_000, millis + " ms with a limit of 2 s");
    }

    @Test
    void anAnswerThatNeverEndsCountsFromItsFirstLine() {
        assertEquals(new Delivery.Delivered("answered 200"), deliver("/trickle"));
    }

    @Test
    void aWrongCertificateIsNotBelieved(@TempDir Path folder) throws IOException {
        TestCertificate other = TestCertificate.forHost("hook.example.org");
        HttpsServer wrong = serverWith(other);
        try {
            String address = "https://localhost:" + wrong.getAddress().getPort() + "/answer/200";
            for (TrustedRoots believed :
                    new TrustedRoots[] {other.trusted(folder), TrustedRoots.usual(), roots}) {
                Delivery delivery =
                        channel(address, JsonTemplate.USUAL, believed)
                                .deliver(Notices.first("e1"), Notices.KEEPER);
                Delivery.TryAgain again = assertInstanceOf(Delivery.TryAgain.class, delivery);
                assertTrue(again.words().startsWith("no private way"), again.words());
                assertEquals(Duration.ofMinutes(5), again.notBefore());
            }
            assertEquals(List.of(), requests);
        } finally {
            wrong.stop(0);
        }
    }

    @Test
    void aReceiverThatIsDownIsTriedAgainAndItsAddressIsNotSaid() {
        int port = port();
        server.stop(0);
        Delivery delivery =
                channel("https://localhost:" + port + "/token-4711", JsonTemplate.USUAL, roots)
                        .deliver(Notices.first("e1"), Notices.KEEPER);
        assertInstanceOf(Delivery.TryAgain.class, delivery);
        assertFalse(delivery.words().contains("token-4711"), delivery.words());
    }

    @Test
    void onlyHttpsIsAnAddress() {
        for (String text :
                List.of(
                        "http://example.org/t-4711",
                        "https://",
                        "https://u:p@example.org/",
                        "x y")) {
            String said =
                    assertThrows(
                                    IllegalArgumentException.class,
                                    () -> WebHookTarget.requireAddress(text))
                            .getMessage();
            assertEquals("no https address", said);
        }
    }
}
