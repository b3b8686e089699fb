package io.evenwarm.monitor.web;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.quantity.TemperatureUnit;
import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.http.ContentType;
import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.HttpStatus;
import io.javalin.http.SameSite;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.lang.System.Logger.Level;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Supplier;
import javax.net.ssl.SSLContext;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.SecureRequestCustomizer;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.server.SslConnectionFactory;
import org.eclipse.jetty.util.ssl.SslContextFactory;
import org.eclipse.jetty.util.thread.QueuedThreadPool;

/**
 * Serves the page by HTTPS. Its threads only read what others hold ready; the one change that a
 * visitor can make is to acknowledge an alarm, with a session, or by the link of a notice.
 */
public final class PageServer implements AutoCloseable {

    private static final System.Logger LOG = System.getLogger(PageServer.class.getName());
    private static final String COOKIE = "__Host-evenwarm";
    private static final Duration DAY = Duration.ofDays(1);
    private static final int THREADS_MAX = 24;
    private static final int THREADS_LEAST = 4;
    private static final int IDLE_MILLIS = 20_000;
    private static final long REQUEST_OCTETS_MAX = 8192;

    private final Javalin server;
    private final LiveView live;
    private final HistoryQueries history;
    private final PageAlarms alarms;
    private final NoticeAnswers answers;
    private final PageAccess access;
    private final Supplier<Instant> wall;
    private final PageText text;
    private final TemperatureUnit unit;
    private final ZoneId zone;

    /**
     * What the page shows and to whom.
     *
     * @param wall the moment now
     * @param unit of temperatures
     * @param zone of times
     */
    public record Content(
            LiveView live,
            HistoryQueries history,
            PageAlarms alarms,
            NoticeAnswers answers,
            PageAccess access,
            Supplier<Instant> wall,
            TemperatureUnit unit,
            ZoneId zone) {}

    private PageServer(Content content, InetSocketAddress address, SSLContext tls) {
        this.live = content.live();
        this.history = content.history();
        this.alarms = content.alarms();
        this.answers = content.answers();
        this.access = content.access();
        this.wall = content.wall();
        this.unit = content.unit();
        this.zone = content.zone();
        this.text = new PageText(unit, zone);
        this.server = Javalin.create(config -> configure(config, address, tls));
        routes();
    }

    /**
     * Opens the page.
     *
     * @throws IOException when the address can't be had; the message says so
     */
    public static PageServer start(Content content, InetSocketAddress address, SSLContext tls)
            throws IOException {
        PageServer page = new PageServer(content, address, tls);
        try {
            page.server.start();
        } catch (RuntimeException e) {
            page.server.stop();
            throw new IOException(
                    "the page can't be served at "
                            + address.getHostString()
                            + ":"
                            + address.getPort()
                            + ": "
                            + Optional.ofNullable(e.getMessage()).orElse("no reason given"),
                    e);
        }
        return page;
    }

    /** The TCP port at which it listens. */
    public int port() {
        return server.port();
    }

    private static void configure(JavalinConfig config, InetSocketAddress address, SSLContext tls) {
        config.showJavalinBanner = false;
        config.startupWatcherEnabled = false;
        config.http.maxRequestSize = REQUEST_OCTETS_MAX;
        config.useVirtualThreads = false;
        config.jetty.threadPool = new QueuedThreadPool(THREADS_MAX, THREADS_LEAST);
        config.jetty.addConnector((jetty, http) -> connector(jetty, http, address, tls));
    }

    private static ServerConnector connector(
            Server jetty, HttpConfiguration http, InetSocketAddress address, SSLContext tls) {
        SslContextFactory.Server factory = new SslContextFactory.Server();
        factory.setSslContext(tls);
        factory.setIncludeProtocols("TLSv1.3", "TLSv1.2");
        HttpConfiguration secure = new HttpConfiguration(http);
        secure.setSendServerVersion(false);
        // Whatever name or address the browser used for this machine is fine.
        secure.addCustomizer(new SecureRequestCustomizer(false));
        ServerConnector connector =
                new ServerConnector(
                        jetty,
                        new SslConnectionFactory(factory, "http/1.1"),
                        new HttpConnectionFactory(secure));
        connector.setHost(address.getHostString());
        connector.setPort(address.getPort());
        connector.setIdleTimeout(IDLE_MILLIS);
        return connector;
    }

    private void routes() {
        server.before(PageServer::harden);
        server.get("/page.css", context -> resource(context, "page.css", ContentType.TEXT_CSS));
        server.get("/page.js", context -> resource(context, "page.js", ContentType.TEXT_JS));
        server.get("/enter/{link}", this::showLink);
        server.post("/enter", this::enter);
        server.get("/answer/{token}", this::showAnswer);
        server.post("/answer", this::answer);
        server.get("/", context -> asVisitor(context, this::page));
        server.get("/now", context -> asVisitor(context, this::now));
        server.get("/day.svg", context -> asVisitor(context, this::day));
        server.post("/acknowledge", context -> asVisitor(context, this::acknowledge));
        server.post("/leave", context -> asVisitor(context, this::leave));
        server.exception(
                Exception.class,
                (e, context) -> {
                    LOG.log(Level.WARNING, "the page: " + context.path(), e);
                    context.status(HttpStatus.INTERNAL_SERVER_ERROR)
                            .html(
                                    PageText.sorry(
                                            "The monitor could not answer. Its log says why."));
                });
        server.error(404, context -> context.html(PageText.sorry("There is nothing here.")));
    }

    /** Nothing from elsewhere, nothing kept, nothing told to elsewhere, in nobody's frame. */
    private static void harden(Context context) {
        context.header(
                "Content-Security-Policy",
                "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:;"
                        + " connect-src 'self'; form-action 'self'; frame-ancestors 'none';"
                        + " base-uri 'none'");
        context.header("Referrer-Policy", "same-origin");
        context.header("X-Content-Type-Options", "nosniff");
        context.header("Cache-Control", "no-store");
        String origin = context.header("Origin");
        boolean isElsewhere = origin != null && !origin.equals("https://" + context.header("Host"));
        boolean changes = context.method().toString().equals("POST");
        if (changes && (origin == null || isElsewhere)) {
            context.status(HttpStatus.FORBIDDEN)
                    .html(PageText.sorry("Refused: this did not come from the page itself."))
                    .skipRemainingHandlers();
        }
    }

    private static void resource(Context context, String name, ContentType type)
            throws IOException {
        try (InputStream in =
                Objects.requireNonNull(PageServer.class.getResourceAsStream(name), name)) {
            context.contentType(type).result(in.readAllBytes());
        }
    }

    private interface Handling {
        void with(Context context, Visitor visitor) throws IOException;
    }

    private void asVisitor(Context context, Handling handling) throws IOException {
        String session = context.cookie(COOKIE);
        Optional<Visitor> visitor =
                session == null ? Optional.empty() : access.visitor(session, wall.get());
        if (visitor.isEmpty()) {
            context.status(HttpStatus.UNAUTHORIZED).html(PageText.closed());
            return;
        }
        handling.with(context, visitor.get());
    }

    private void showLink(Context context) throws IOException {
        String link = context.pathParam("link");
        if (access.isLink(link, wall.get())) {
            context.html(PageText.enter(link));
        } else {
            context.status(HttpStatus.UNAUTHORIZED).html(PageText.closed());
        }
    }

    private void enter(Context context) throws IOException {
        String link = Optional.ofNullable(context.formParam("link")).orElse("");
        Optional<PageAccess.Opened> opened = access.open(link, wall.get());
        if (opened.isEmpty()) {
            context.status(HttpStatus.UNAUTHORIZED).html(PageText.closed());
            return;
        }
        context.cookie(
                new Cookie(
                        COOKIE,
                        opened.get().session(),
                        "/",
                        Math.toIntExact(opened.get().length().toSeconds()),
                        true,
                        0,
                        true,
                        null,
                        null,
                        SameSite.STRICT));
        context.redirect("/", HttpStatus.SEE_OTHER);
    }

    /** Opens nothing and acknowledges nothing, however often: scanners of mail look at links. */
    private void showAnswer(Context context) throws IOException {
        String token = context.pathParam("token");
        Optional<NoticeAnswers.Told> told = answers.told(token);
        if (told.isPresent()) {
            context.html(PageText.answer(token, told.get()));
        } else {
            context.status(HttpStatus.NOT_FOUND).html(PageText.noAnswer());
        }
    }

    private void answer(Context context) throws IOException {
        String token = Optional.ofNullable(context.formParam("token")).orElse("");
        Optional<NoticeAnswers.Answer> answer = answers.acknowledge(token);
        if (answer.isEmpty()) {
            context.status(HttpStatus.NOT_FOUND).html(PageText.noAnswer());
            return;
        }
        context.status(answer.get().isAcknowledged() ? HttpStatus.OK : HttpStatus.CONFLICT)
                .html(PageText.said(answer.get().words()));
    }

    private void page(Context context, Visitor visitor) {
        context.html(text.page(visitor, live, alarms, wall.get()));
    }

    private void now(Context context, Visitor visitor) {
        context.html(text.now(visitor, live, alarms, wall.get()));
    }

    private void day(Context context, Visitor visitor) {
        Optional<CabinetKey> key = asked(context);
        if (key.isEmpty()) {
            context.status(HttpStatus.NOT_FOUND);
            return;
        }
        Instant to =
                live.cabinets().stream()
                        .filter(cabinet -> cabinet.key().equals(key.get()))
                        .map(LiveCabinet::snapshot)
                        .map(snapshot -> snapshot.moment().wall())
                        .findFirst()
                        .orElseGet(wall);
        try {
            String svg =
                    DaySketch.svg(
                            history.curves(key.get(), new TimeSpan(to.minus(DAY), to)), unit, zone);
            // As octets: what is written as text may be encoded otherwise.
            context.contentType("image/svg+xml; charset=utf-8")
                    .result(svg.getBytes(StandardCharsets.UTF_8));
        } catch (UncheckedIOException e) {
            LOG.log(Level.WARNING, "a day's curves: {0}", e.getMessage());
            context.status(HttpStatus.SERVICE_UNAVAILABLE);
        }
    }

    /** Only a cabinet that is known: a name from outside asks the store nothing. */
    private Optional<CabinetKey> asked(Context context) {
        try {
            CabinetKey key =
                    new CabinetKey(
                            new AgentName(
                                    Optional.ofNullable(context.queryParam("agent")).orElse("")),
                            new CabinetName(
                                    Optional.ofNullable(context.queryParam("cabinet")).orElse("")));
            return live.cabinets().stream().map(LiveCabinet::key).filter(key::equals).findFirst();
        } catch (IllegalArgumentException e) {
            return Optional.empty();
        }
    }

    private void acknowledge(Context context, Visitor visitor) {
        if (!visitor.mayAcknowledge()) {
            context.status(HttpStatus.FORBIDDEN)
                    .html(PageText.sorry("Refused: your session may look only."));
            return;
        }
        String alarm = Optional.ofNullable(context.formParam("alarm")).orElse("");
        Optional<String> whyNot = alarms.acknowledge(alarm, visitor);
        if (whyNot.isPresent()) {
            context.status(HttpStatus.CONFLICT).html(PageText.sorry(whyNot.get()));
        } else {
            context.redirect("/", HttpStatus.SEE_OTHER);
        }
    }

    private void leave(Context context, Visitor visitor) throws IOException {
        access.leave(Optional.ofNullable(context.cookie(COOKIE)).orElse(""));
        context.removeCookie(COOKIE, "/");
        LOG.log(Level.INFO, "{0} left the page", visitor.name());
        context.redirect("/", HttpStatus.SEE_OTHER);
    }

    @Override
    public void close() {
        server.stop();
    }
}
