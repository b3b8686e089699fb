package io.evenwarm.monitor.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.link.Identity;
import io.evenwarm.link.ServingTls;
import io.evenwarm.monitor.view.InventedCabinets;
import io.evenwarm.quantity.TemperatureUnit;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.xml.sax.SAXException;

/** The served page over real TLS: what strangers, lookers and those who may acknowledge get. */
@Timeout(60)
final class PageServerTest {

    private static final Instant NOW = Instant.parse("2026-03-01T18:00:00Z");

    private final InventedCabinets cabinets =
            new InventedCabinets(
                    () -> NOW, Duration.ofDays(2), List.of(InventedCabinets.Story.values()));
    private final InventedAlarms alarms = new InventedAlarms(() -> NOW);
    private final List<String> acknowledged = alarms.acknowledged;
    private final InventedAnswers answers = new InventedAnswers();
    private final PageAccess access;
    private final PageServer server;
    private final HttpClient client;
    private final String origin;

    PageServerTest(@TempDir Path folder) throws IOException {
        access = new PageAccess(folder.resolve("page"));
        Path pem = folder.resolve("identity.pem");
        Identity identity = Identity.loadOrCreate(pem, "evenwarm page");
        server =
                PageServer.start(
                        new PageServer.Content(
                                cabinets,
                                cabinets.history(),
                                alarms,
                                answers,
                                access,
                                () -> NOW,
                                TemperatureUnit.CELSIUS,
                                ZoneId.of("UTC")),
                        new InetSocketAddress(InetAddress.getLoopbackAddress(), 0),
                        ServingTls.of(identity));
        client = TrustingClient.make();
        origin = "https://127.0.0.1:" + server.port();
    }

    @AfterEach
    void end() {
        server.close();
    }

    private HttpResponse<String> send(HttpRequest.Builder request)
            throws IOException, InterruptedException {
        return client.send(request.build(), HttpResponse.BodyHandlers.ofString());
    }

    private HttpRequest.Builder to(String path, Optional<String> cookie) {
        HttpRequest.Builder request = HttpRequest.newBuilder(URI.create(origin + path));
        cookie.ifPresent(value -> request.header("Cookie", value));
        return request;
    }

    private HttpResponse<String> get(String path, Optional<String> cookie)
            throws IOException, InterruptedException {
        return send(to(path, cookie));
    }

    private HttpResponse<String> post(
            String path, Optional<String> cookie, Optional<String> from, String field, String value)
            throws IOException, InterruptedException {
        HttpRequest.Builder request =
                to(path, cookie)
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .POST(
                                HttpRequest.BodyPublishers.ofString(
                                        field
                                                + "="
                                                + URLEncoder.encode(
                                                        value, StandardCharsets.UTF_8)));
        from.ifPresent(value2 -> request.header("Origin", value2));
        return send(request);
    }

    private Optional<String> sessionOf(Visitor visitor) throws IOException, InterruptedException {
        String link = access.link(visitor, 30, NOW);
        HttpResponse<String> asked = get("/enter/" + link, Optional.empty());
        assertEquals(200, asked.statusCode());
        assertTrue(asked.body().contains("<button>Open</button>"), asked.body());
        HttpResponse<String> opened =
                post("/enter", Optional.empty(), Optional.of(origin), "link", link);
        assertEquals(303, opened.statusCode());
        String cookie = opened.headers().firstValue("Set-Cookie").orElseThrow();
        for (String needed :
                List.of("__Host-evenwarm=", "Path=/", "Secure", "HttpOnly", "SameSite=Strict")) {
            assertTrue(cookie.contains(needed), cookie);
        }
        return Optional.of(cookie.substring(0, cookie.indexOf(';')));
    }

    @Test
    void aStrangerLearnsNothingAndCanDoNothing() throws IOException, InterruptedException {
        List<String> got = new ArrayList<>();
        for (String path : List.of("/", "/now", "/day.svg?agent=egg+room&cabinet=north")) {
            for (Optional<String> cookie :
                    List.of(
                            Optional.<String>empty(),
                            Optional.of("__Host-evenwarm=" + "x".repeat(43)))) {
                HttpResponse<String> answer = get(path, cookie);
                got.add(path + " " + answer.statusCode());
                assertEquals(401, answer.statusCode(), path);
                assertFalse(answer.body().contains("north"), answer.body());
                assertFalse(answer.body().contains("egg room"), answer.body());
            }
        }
        HttpResponse<String> pressed =
                post("/acknowledge", Optional.empty(), Optional.of(origin), "alarm", "42");
        assertEquals(401, pressed.statusCode());
        assertEquals(List.of(), acknowledged);
        assertEquals(401, get("/enter/" + "x".repeat(43), Optional.empty()).statusCode());
        assertEquals(404, get("/else", Optional.empty()).statusCode());
        System.out.println("told-5 page, stranger: " + got + ", acknowledge 401");
    }

    @Test
    void whoMayLookSeesEveryCabinetAndEveryAlarmAndAcknowledgesNone()
            throws IOException, InterruptedException {
        Optional<String> cookie = sessionOf(new Visitor("a friend", false));
        HttpResponse<String> page = get("/", cookie);
        assertEquals(200, page.statusCode());
        for (InventedCabinets.Story story : InventedCabinets.Story.values()) {
            assertTrue(page.body().contains(story.key().cabinet().value()), page.body());
        }
        assertTrue(page.body().contains("Cut-off tripped &lt;b&gt;"), page.body());
        assertTrue(page.body().contains("UNKNOWN for 3 h"), page.body());
        assertTrue(page.body().contains("OLD, 47 s"), page.body());
        assertFalse(page.body().contains("<button>Acknowledge"), page.body());
        HttpResponse<String> refused =
                post("/acknowledge", cookie, Optional.of(origin), "alarm", "42");
        assertEquals(403, refused.statusCode());
        assertEquals(List.of(), acknowledged);
    }

    @Test
    void everyCabinetSaysHowLongItsEggsWouldHaveWithoutHeat()
            throws IOException, InterruptedException {
        String page = get("/", sessionOf(new Visitor("a friend", false))).body();
        for (String words :
                List.of(
                        "If heating stopped now: about 5 h until the eggs are at 20.0 °C. Eggs"
                                + " about 31.2 °C.",
                        "If heating stopped now: about 2 h until the eggs are at 20.0 °C. No model"
                                + " yet: by the settings' constants.",
                        "If heating stopped now: the eggs are not foretold to get to 20.0 °C. No"
                                + " model yet",
                        "If heating stopped when last heard: about 5 h from now until the eggs are"
                                + " at 20.0 °C. Eggs then about 31.2 °C.",
                        "If heating stopped when last heard: the eggs may be at 20.0 °C"
                                + " already.")) {
            assertTrue(page.contains("<p>" + Html.text(words)), words + " in " + page);
        }
    }

    @Test
    void whoMayAcknowledgeDoesSoWithAPressAndOnlyFromThePageItself()
            throws IOException, InterruptedException {
        Optional<String> cookie = sessionOf(new Visitor("the keeper", true));
        assertTrue(get("/", cookie).body().contains("<button>Acknowledge"));
        assertEquals(404, get("/acknowledge?alarm=42", cookie).statusCode());
        for (Optional<String> elsewhere :
                List.of(Optional.<String>empty(), Optional.of("https://elsewhere.example"))) {
            assertEquals(403, post("/acknowledge", cookie, elsewhere, "alarm", "42").statusCode());
        }
        assertEquals(List.of(), acknowledged);
        assertEquals(
                409, post("/acknowledge", cookie, Optional.of(origin), "alarm", "44").statusCode());
        assertEquals(
                303, post("/acknowledge", cookie, Optional.of(origin), "alarm", "42").statusCode());
        assertEquals(List.of("42 by the keeper"), acknowledged);
        assertTrue(get("/", cookie).body().contains("Acknowledged."));
    }

    /** What a mail scanner does to a link, with which nobody has a session. */
    @Test
    void aLinkInANoticeThatIsOpenedShowsWhatTheNoticeSaidAndDoesNothing()
            throws IOException, InterruptedException {
        String link = "/answer/" + InventedAnswers.TOKEN;
        for (int i = 0; i < 3; i++) {
            HttpResponse<String> opened = get(link, Optional.empty());
            assertEquals(200, opened.statusCode());
            assertTrue(opened.body().contains("north too cold &lt;i&gt;"), opened.body());
            assertTrue(opened.body().contains("<button>Acknowledge</button>"), opened.body());
            // Of all else that the page knows, nothing.
            assertFalse(opened.body().contains("south"), opened.body());
            assertFalse(opened.body().contains("Cut-off"), opened.body());
            HttpResponse<String> head =
                    send(to(link, Optional.empty()).method("HEAD", BodyPublishers.noBody()));
            assertTrue(head.statusCode() < 500, "HEAD " + head.statusCode());
        }
        assertEquals(
                404, get("/answer?token=" + InventedAnswers.TOKEN, Optional.empty()).statusCode());
        assertEquals(List.of(), answers.pressed);
    }

    @Test
    void aPressBehindALinkAcknowledgesWithoutASessionAndOnlyFromThePageItself()
            throws IOException, InterruptedException {
        for (Optional<String> elsewhere :
                List.of(Optional.<String>empty(), Optional.of("https://elsewhere.example"))) {
            assertEquals(
                    403,
                    post("/answer", Optional.empty(), elsewhere, "token", InventedAnswers.TOKEN)
                            .statusCode());
        }
        for (String wrong : List.of("", "x", "x".repeat(43), InventedAnswers.TOKEN + "x")) {
            HttpResponse<String> refused =
                    post("/answer", Optional.empty(), Optional.of(origin), "token", wrong);
            assertEquals(404, refused.statusCode());
            assertFalse(refused.body().contains("north"), refused.body());
            assertEquals(
                    404,
                    get("/answer/" + (wrong.isEmpty() ? "-" : wrong), Optional.empty())
                            .statusCode());
        }
        assertEquals(List.of(), answers.pressed);
        HttpResponse<String> pressed =
                post(
                        "/answer",
                        Optional.empty(),
                        Optional.of(origin),
                        "token",
                        InventedAnswers.TOKEN);
        assertEquals(200, pressed.statusCode());
        assertTrue(pressed.body().contains("Acknowledged."), pressed.body());
        assertEquals(List.of(InventedAnswers.TOKEN), answers.pressed);
        assertTrue(pressed.headers().firstValue("Set-Cookie").isEmpty(), "it gives no session");
        HttpResponse<String> again =
                post(
                        "/answer",
                        Optional.empty(),
                        Optional.of(origin),
                        "token",
                        InventedAnswers.TOKEN);
        assertEquals(409, again.statusCode());
        assertEquals(401, get("/", Optional.empty()).statusCode());
    }

    @Test
    void theDaysCurvesArePicturesOfKnownCabinetsOnly() throws IOException, InterruptedException {
        Optional<String> cookie = sessionOf(new Visitor("a friend", false));
        HttpResponse<String> day = get("/day.svg?agent=egg+room&cabinet=north", cookie);
        assertEquals(200, day.statusCode());
        String type = day.headers().firstValue("Content-Type").orElse("");
        assertTrue(type.startsWith("image/svg+xml"), type);
        try {
            DocumentBuilderFactory.newInstance()
                    .newDocumentBuilder()
                    .parse(new ByteArrayInputStream(day.body().getBytes(StandardCharsets.UTF_8)));
        } catch (ParserConfigurationException | SAXException e) {
            throw new AssertionError(day.body(), e);
        }
        assertEquals(404, get("/day.svg?agent=egg+room&cabinet=none", cookie).statusCode());
        assertEquals(404, get("/day.svg?agent=%00&cabinet=%3Cb", cookie).statusCode());
        assertEquals(404, get("/day.svg", cookie).statusCode());
    }

    @Test
    void whoLeavesIsOut() throws IOException, InterruptedException {
        Optional<String> cookie = sessionOf(new Visitor("the keeper", true));
        assertEquals(303, post("/leave", cookie, Optional.of(origin), "x", "").statusCode());
        assertEquals(401, get("/", cookie).statusCode());
    }

    @Test
    void nothingComesFromElsewhereAndNothingIsKept() throws IOException, InterruptedException {
        HttpResponse<String> answer = get("/", Optional.empty());
        String policy = answer.headers().firstValue("Content-Security-Policy").orElseThrow();
        assertTrue(policy.startsWith("default-src 'none'; script-src 'self';"), policy);
        assertEquals("no-store", answer.headers().firstValue("Cache-Control").orElseThrow());
        assertEquals("same-origin", answer.headers().firstValue("Referrer-Policy").orElseThrow());
        assertFalse(answer.headers().firstValue("Server").isPresent());
    }

    @Test
    void whoConnectsAndSaysNothingKeepsNobodyOut() throws IOException, InterruptedException {
        List<Socket> silent = new ArrayList<>();
        try {
            for (int i = 0; i < 100; i++) {
                silent.add(new Socket(InetAddress.getLoopbackAddress(), server.port()));
            }
            assertEquals(401, get("/", Optional.empty()).statusCode());
        } finally {
            for (Socket socket : silent) {
                socket.close();
            }
        }
    }

    @Test
    void aPageOfFiveCabinetsIsSmall() throws IOException, InterruptedException {
        Optional<String> cookie = sessionOf(new Visitor("a friend", false));
        int octets = 0;
        for (String path :
                List.of(
                        "/",
                        "/page.css",
                        "/page.js",
                        "/day.svg?agent=egg+room&cabinet=north",
                        "/day.svg?agent=egg+room&cabinet=south",
                        "/day.svg?agent=egg+room&cabinet=tall+one",
                        "/day.svg?agent=egg+room&cabinet=nursery",
                        "/day.svg?agent=cellar&cabinet=old+fridge")) {
            octets += get(path, cookie).body().getBytes(StandardCharsets.UTF_8).length;
        }
        System.out.println("page of five cabinets with curves: " + octets + " octets");
        assertTrue(octets < 150_000, octets + " octets");
    }
}
